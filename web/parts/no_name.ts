/** Of words that the house says of a thing or a count: they stay when an owner's are erased. */
export const NO_NAME = "No owner's name here: all read it, and it stays.";

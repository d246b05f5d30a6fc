/**
 * What the words of a receipt's line go by: names stand behind one another, patterns as text.
 *
 * Written by `python -m intake.app_types` from `intake/custody/receipt_lines.py`. Change that, then write it anew.
 */
/** What a zone is, and no thing on it. */
export const STATES =
  "converted filled laid-down over-cleaned patched re-covered re-plated re-sewn re-stuffed rebound " +
  "refinished relined repainted resized restuck retouched runs-untimed seized slack stiff stops trimmed";
/** What is not there any more. */
export const MISSING: Readonly<Record<string, string>> = {
  "missing-part": "part",
  "stone-missing": "stone",
  "leaf-missing": "leaf",
};
/** What is missing of a zone that is called by another thing on it. */
export const LOST_THERE: Readonly<Record<string, string>> = {
  "bow-brand": "bow hair",
  crown: "pate",
  voice: "voice box",
};
/** Zones that are beside the pieces of a set, and on none of them. */
export const BESIDE =
  "accessories box box-flaps documents extras note-paper packaging papers set-count slipcase";
/** Nouns for a piece, whatever the set is of. */
export const PIECE_NOUNS = "example examples one ones piece pieces";
/** Words of a note that say which piece, before a noun for one. */
export const BEFORE_NOUN =
  "\\b(?:all|both|each|every|either|neither|one|two|three|four|five|six|\\d+|first|second|third|fourth|" +
  "fifth|sixth|last|(?:larg|small|tall|short)(?:er|est)|other|another|odd|left|right)(?:-hand)? (?=(\\w+))";
/** Words of a note that say which piece by themselves. */
export const SAYS_WHICH =
  "\\b(?:piece|number|no|nr)s?\\.? \\d|\\bthe (?:first|second|third|fourth|fifth|sixth)\\b|\\b(?:all|both|" +
  "each|every|either|neither|one|two|three|four|five|six|\\d+|first|second|third|fourth|fifth|sixth|last|" +
  "(?:larg|small|tall|short)(?:er|est)|other|another|odd|left|right) of (?:them\\b|these\\b|the (?:one|two|" +
  "three|four|five|six|\\d+|set|pair|pieces)\\b)|\\b(?:the (?:first|second|third|fourth|fifth|sixth|last|" +
  "(?:larg|small|tall|short)(?:er|est)|other|another|odd)|both|each|neither|all(?: (?:one|two|three|four|" +
  "five|six|\\d+))?)(?= *(?:$|[,.;:]| (?:and|is|are|has|have|only|from)\\b))";

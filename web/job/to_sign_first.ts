/** What a receipt still lacks before it can be signed, as its key says it. */

import type { Signature } from "./receipt.ts";
import { countWords } from "./words.ts";

type ToSign = {
  what: "left" | "taken-back";
  /** How many things it lists, and how many of them need a number first. */
  lines: number;
  untied: number;
  entered: Signature;
  /** What was drawn is for another list than the one on the screen. */
  isOfAnother: boolean;
  /** The owner has it in front of them. */
  toOwner: boolean;
  /** The visit has ended: whoever signs has come back to it. */
  hasLeft: boolean;
};

/**
 * "" once it can be signed. What goes back is handed to somebody: who takes it is named, also where this device does
 * not know the owner's name any more, since a stroke of the pen alone does not say who has the thing. So is
 * who signs for what is left once the visit has ended.
 */
export function lackingToSign({
  what,
  lines,
  untied,
  entered,
  isOfAnother,
  toOwner,
  hasLeft,
}: ToSign): string {
  if (untied) return toOwner ? "A number is missing" : `Tie a tag to ${countWords(untied, "thing")} first`;
  if (!lines) return "Nothing is here to sign for";
  if (!entered.house_by.trim()) return `${toOwner ? "Turn back and say" : "Say"} who signs for the house`;
  if (isOfAnother && !entered.on_paper.trim()) return "Read it again and sign";
  const isBack = what === "taken-back";
  if ((isBack || hasLeft) && !entered.signed_by.trim())
    return toOwner ? "Your name is missing" : `Say who ${isBack ? "takes it back" : "signs"}`;
  return entered.strokes || entered.on_paper.trim() ? "" : "The owner has not signed";
}

/** What somebody puts in the place of what a refused operation says. */

import { useState } from "preact/hooks";
import { longestText } from "../../job/kinds_read.ts";
import { fieldOf } from "../../job/operation.ts";
import { parseTag } from "../../job/tag.ts";
import type { Operation } from "../../job/types.ts";
import { fieldWords } from "../../job/value_words.ts";
import { firstUpper } from "../../job/words.ts";
import type { Refused } from "../../local/database.ts";
import { correct } from "../../local/outbox.ts";

/** What of a refused operation can be corrected here: its number, who signed, or the words of its field. */
export function correctable(op: Operation) {
  if (op.kind === "tie_tag") return { member: "tag", label: "Another tag", text: op.tag };
  if (op.kind === "sign_receipt" && !op.signed_by.trim())
    return { member: "signed_by", label: "Name of who signs", text: op.signed_by };
  const label = firstUpper(fieldWords(fieldOf(op)?.[0] ?? ""));
  return "value" in op && typeof op.value === "string" ? { member: "value", label, text: op.value } : null;
}

/** What the key does: words that are as they were it does not correct, since what stood against them may be gone. */
export function againWords(editable: ReturnType<typeof correctable>, text: string) {
  return editable && text !== editable.text ? "Send it corrected" : "Send it again";
}

/** A box goes with what stands in it: where words are erased, what was typed in their place goes as well. */
export function asItStands({ operation_id, operation }: Refused) {
  return `${operation_id} ${correctable(operation)?.text ?? ""}`;
}

/**
 * What somebody is putting in the place of what an operation says; it is kept as they type it, and what is typed in
 * another window of this device shows here as well.
 */
export function useCorrection(refusal: Refused, text: string) {
  const [typing, setTyping] = useState<string | null>(null);
  const type = async (now: string) => {
    setTyping(now);
    await correct(refusal, text, now);
    setTyping(null);
  };
  return { text: typing ?? refusal.correction ?? text, type };
}

/** The member of an operation that was corrected, as it is to be sent. */
export function corrected(editable: ReturnType<typeof correctable>, text: string) {
  return editable ? { [editable.member]: editable.member === "tag" ? parseTag(text) : text } : {};
}

export const LONGEST_VALUE = longestText("set_item.value");

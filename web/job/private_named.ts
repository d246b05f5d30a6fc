/** Whether words that stay for good, and that all read, name an owner whose visit is private. */

import type { VisitRecord } from "./types.ts";
import { fieldValue, isPrivate } from "./values.ts";

/** Shorter parts of a name are initials and particles, which stand in any sentence. */
const LEAST = 3;

/** The tickets of the private owners whom some words name, by all of their name or a part of it, as known here. */
export function privateNamed(text: string, visits: readonly VisitRecord[]): string[] {
  const said = new Set(wordsOf(text));
  return visits.flatMap((visit) => {
    const name = isPrivate(visit) ? wordsOf(fieldValue(visit, "consignor/name") ?? "") : [];
    const isNamed = name.some((part) => part.length >= LEAST && said.has(part));
    return isNamed ? [fieldValue(visit, "ticket")?.trim() || "no ticket"] : [];
  });
}

function wordsOf(text: string): string[] {
  return (
    text
      .normalize("NFKD")
      .replace(/\p{M}/gu, "")
      .toLowerCase()
      .match(/\p{L}+/gu) ?? []
  );
}

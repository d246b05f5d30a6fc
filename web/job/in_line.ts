/** Words of somebody as they stand in a part of a receipt's line, which ends at a semicolon. */
export function wordsInLine(words: string | null | undefined): string {
  return (words ?? "")
    .replaceAll(";", ",")
    .replace(/[\s.,:]+$/, "")
    .trim();
}

/** A date that is far from another was mistyped, mostly: a digit is left out, or the year is still being typed. */

/** Whether two dates such as 2026-03-14 are further apart than the year beside. */
export function isFarFrom(date: string, other: string): boolean {
  const yearOf = (of: string) => Number(of.split("-")[0]);
  return Math.abs(yearOf(date) - yearOf(other)) > 1;
}

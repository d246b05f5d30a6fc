/** A day's closing as the office tells it: its beginning with every count, and the lines of each section by pages. */
import type { ClosingSection, DayClosing, LinesPage } from "../job/day_closing.ts";
import { get, OfficeSays } from "./office.ts";

/** How many lines of a section are to be read, if it has so many; the first come with the beginning. */
export type Wanted = (section: ClosingSection["section"]) => number;

const MOST_A_PAGE = 500;
/** A day in which something changes while its pages are read is read again, so often at once. */
const TRIES = 3;

export const EVERY_LINE: Wanted = () => Number.POSITIVE_INFINITY;

/**
 * The closing as it is now with the lines that are wanted, all of one state. What was read of the same state `before`
 * is not read again. Throws as `get` does.
 */
export async function readClosing(
  day_id: string,
  wanted: Wanted,
  before: DayClosing | null = null,
): Promise<DayClosing> {
  for (let tries = 1; ; tries += 1)
    try {
      const begun = await get<DayClosing>(`/days/${day_id}/closing`);
      return await withLines(
        before?.state === begun.state ? { ...before, ...cursorOf(begun) } : begun,
        wanted,
      );
    } catch (error) {
      if (tries === TRIES || !isOfAnotherState(error)) throw error;
    }
}

const cursorOf = ({ cursor }: DayClosing) => ({ cursor });

/** The same closing with more of its lines. Throws as `get` does. */
export async function withLines(closing: DayClosing, wanted: Wanted): Promise<DayClosing> {
  const sections: ClosingSection[] = [];
  for (const one of closing.sections) sections.push(await linesTo(closing, one, wanted(one.section)));
  return { ...closing, sections };
}

async function linesTo<Section extends ClosingSection>(closing: DayClosing, of: Section, wanted: number) {
  const due = Math.min(of.count, wanted);
  const lines: unknown[] = [...of.lines];
  while (lines.length < due) {
    const asked = new URLSearchParams({
      state: closing.state,
      section: of.section,
      after: String(lines.length),
      limit: String(Math.min(due - lines.length, MOST_A_PAGE)),
    });
    const page = await get<LinesPage>(`/days/${closing.day_id}/closing/lines?${asked}`);
    lines.push(...page.lines);
    if (page.next === null) break;
  }
  return { ...of, lines } as Section;
}

/** Whether the office told lines of another state of the day by then. */
export function isOfAnotherState(error: unknown) {
  return error instanceof OfficeSays && error.code === "closing_changed";
}

/** What the photos of an entry are called, and which of them go on paper. */

import type { PhotoValue } from "../../job/fields.ts";
import { photosOf, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import type { Listed } from "../../job/values.ts";
import { spaced } from "../../job/words.ts";
import type { Numbered } from "./entry_findings.tsx";

/** The finding that it shows, with its number, else its zone, else the view that it serves. */
export function pictureWords(
  plan: Plan | null,
  findings: Numbered[],
  { finding_id, zone, view }: PhotoValue,
) {
  const finding = findings.find(({ id }) => id === finding_id);
  if (finding) return `${spaced(finding.value.term)} on ${zoneName(finding.value.zone)}`;
  if (zone) return zoneName(zone);
  return plan?.views.find((named) => named.view === view)?.words ?? "no named view";
}

/** Two rows of them leave a sheet its words. */
const MOST = 6;

/**
 * The thing as a whole, then its findings, the gravest first, then one of each view, as the class asks for them; of
 * what is left over how many.
 */
export function chosenToPrint(item: ItemRecord, plan: Plan | null, findings: readonly { id: string }[]) {
  const photos = photosOf(item);
  const ofView = (view: string) => photos.find(({ value }) => value.view === view && !value.finding_id);
  const [whole, ...views] = (plan?.views ?? []).map(({ view }) => ofView(view));
  const found = findings.flatMap(({ id }) => photos.find(({ value }) => value.finding_id === id) ?? []);
  const inOrder = [whole, ...found, ...views].filter((photo): photo is Listed<PhotoValue> => Boolean(photo));
  const chosen = [...new Set([...inOrder, ...(inOrder.length ? [] : photos)])].slice(0, MOST);
  return { chosen, left: photos.length - chosen.length };
}

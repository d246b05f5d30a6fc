/** What a plan asks of one thing, by what it is called: the trunk of a longcase clock, of no other clock. */
import type { Plan, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/** Plans as kinds of things are asked, by the ids that are left out; each is made once. */
const made = new WeakMap<Plan, Map<string, Plan>>();

/** The plan without the rows that such a thing is not asked about, but for those on which something is on record. */
export function planOfKind(plan: Plan, record: RecordCopy): Plan {
  const { kinds } = plan;
  if (!kinds?.length) return plan;
  const name =
    fieldValue(record, "short_description")
      ?.toLowerCase()
      .match(/[\p{L}-]+/gu) ?? [];
  const has = (said: string[]) => said.some((one) => ` ${name.join(" ")} `.includes(` ${one} `));
  // What is called by the words of two kinds is of neither: a teapot on a tray.
  const [first, second] = kinds.filter(({ named, not_named }) => has(named) && !has(not_named));
  const own = second ? undefined : first;
  const found = listed(record, "findings/").map(({ value }) => value.zone.split("/")[0]);
  const kept = new Set([...Object.keys(record.fields).map((field) => field.split("/")[1]), ...found]);
  const isLeftOut = (id: string) => !kept.has(id) && !own?.only.includes(id);
  const out = new Set(kinds.flatMap((kind) => (kind === own ? kind.without : kind.only)).filter(isLeftOut));
  // A chair is seen from the front and has no front face: a zone alone, which no view or trial of its id brings back.
  const isUnspoken = (zone: string) =>
    !found.includes(zone) &&
    Object.keys(record.fields).every((field) => !`${field}/`.startsWith(`zones/${zone}/`));
  const zonesOut = new Set([...out, ...(own?.without_zones ?? []).filter(isUnspoken)]);
  const known = made.get(plan) ?? new Map<string, Plan>();
  made.set(plan, known);
  const key = [own?.kind, ...out, "", ...zonesOut].join();
  const asked = known.get(key) ?? {
    ...plan,
    kind: own?.kind,
    zones: plan.zones
      .filter(({ zone }) => !zonesOut.has(zone))
      .map((zone) => ({ ...zone, words: own?.words?.[zone.zone] ?? zone.words })),
    tests: plan.tests.filter(({ test }) => !out.has(test)),
    views: plan.views.filter(({ view }) => !out.has(view)),
    measures: plan.measures
      .filter(({ measure }) => !out.has(measure))
      .map((size) => ({ ...size, ...own?.sizes[size.measure] })),
    negatives: plan.negatives.filter(({ negative }) => !out.has(negative)),
    questions: plan.questions.map((one) => own?.asked?.[one.question] ?? one),
    ...own?.instead,
  };
  known.set(key, asked);
  return asked;
}

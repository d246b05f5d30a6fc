/** What a thing is called may name a fault of what is asked about, though nobody examined it: "cello, broken neck". */
import { type Described, termOf, WHOLE } from "./families.ts";
import { zoneNameOf } from "./places.ts";
import { type Sentence, sentence, withoutStop } from "./sentences.ts";
import { isNamedIn } from "./there.ts";
import type { PlanBook, Question } from "./types.ts";
import { keysAsked } from "./untried.ts";
import { fieldValue, findingsOn } from "./values.ts";

/** The clauses of its name, behind the first, that speak of a zone or a fault that is asked for. */
export function faultsInName(described: Described, question: Question): Sentence[] {
  const { record } = described;
  const keys = keysAsked(described, question);
  const isKnown = (key: string) => fieldValue(record, `zones/${key}`) || findingsOn(record, key).length;
  if (!keys.length || keys.some(isKnown)) return [];
  const [, ...clauses] = withoutStop(fieldValue(record, "short_description") ?? "").split(/[,;] /);
  const said = clauses.filter((clause) => isAskedIn(described, question, clause)).join(", ");
  return said ? [sentence(`said in the description alone: “${said}”`, ["short_description"], ["what"])] : [];
}

/** A fault of a zone answers who asks for that; whoever asks whether it is original, only where nobody else does. */
function isAskedIn({ plan, book }: Described, question: Question, clause: string) {
  const named = plan.zones.filter(({ zone }) => zone !== WHOLE && isNamedIn(clause, zoneNameOf(book, zone)));
  if (!named.length) {
    // One that names no fault asks for any that is usual there.
    const usual = plan.zones.flatMap(({ zone, usual }) => (question.zones.includes(zone) ? usual : []));
    const asked = [...question.terms, ...question.anywhere, ...(question.terms.length ? [] : usual)];
    return asked.some((term) => isSaidIn(book, term, clause));
  }
  const isOf = (one: Question) =>
    named.some(({ zone }) => one.zones.includes(zone) || isNamedIn(one.question, zoneNameOf(book, zone)));
  const others = plan.questions.filter((one) => !one.unless_origin && isOf(one));
  return others.length ? others.includes(question) : isOf(question);
}

/** Whether words name a fault, as it is called in print or as people say it. */
function isSaidIn(book: PlanBook, name: string, words: string) {
  const term = termOf(book, name);
  const said = [term?.noun, term?.plural, term?.says, ...(term?.said_as ?? [])];
  const plain = (some: string) =>
    ` ${some
      .toLowerCase()
      .replaceAll(/[^\p{L}]+/gu, " ")
      .trim()} `;
  const isIn = (one: string) => plain(words).includes(plain(one)) || plain(one).startsWith(plain(words));
  return said.some((one) => one && isIn(one));
}

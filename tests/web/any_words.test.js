/**
 * What must hold for the printed texts of every record, over every class. Chance is seeded; ROUNDS records a class, or
 * as many as the environment asks for. Families and numbers are read here from the data, not from the code under test.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { planOfKind } from "../../web/job/kind_of.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { isOfOtherKind, keysOf } from "../../web/job/progress.ts";
import { asText } from "../../web/job/sentences.ts";
import { anyRecord, clear, finding, recordOf } from "./any_words.js";
import { chance } from "./chance.js";
import { book } from "./plan_book.js";
import { sampled } from "./samples.js";

const ROUNDS = Number(process.env.WORDS_ROUNDS ?? 6);
/** Of each class one of every so many: all where the environment asks for a number. */
const OF = process.env.WORDS_ROUNDS ? 1 : 3;
const SEED = Number(process.env.WORDS_SEED ?? 18);
const plans = Object.values(book.plans).filter((plan) => !plan.refer_only);
const terms = new Map(book.vocabulary.terms.map((term) => [term.term, term]));
const NUMBERS = "no one two three four five six seven eight nine ten eleven twelve thirteen fourteen".split(
  " ",
);
/** The house's method and its table: on the screen, never in print. */
const METHOD =
  /\b(severity|moderate|serious finding|because of|key zone|supporting|queue|by weight|index|ceiling|progressing)\b/i;

/** What is said where something else was found there that is no answer. */
const OF_KIND = /\bno (further )?such fault noted |\bno sign of later work noted/i;

/** Sentences that say that nothing is on record, and so rest on no field. */
const RESTS_ON_SILENCE = new RegExp(
  [
    "^Not measured\\.$",
    "[Nn]othing (else |of the kind )?is recorded|^Not noted|not taken|(was|were) not noted\\.",
    "^(No marks were|No imprint was|The marks were not) copied|^No grade was",
    "(was|were) not noted, nor|could not be seen\\.$",
    "(was|were) not (noted|looked (at|for)|measured|copied|tried|tried under steam)\\.$",
  ].join("|"),
);
/** Whether it says, in the plan's own words, what nobody tested: "Running and strike not tested.", "Not tapped." */
function isOfUndone(plan, sentence) {
  const undone = plan.tests.flatMap(({ undone }) => undone ?? []);
  const words = sentence.charAt(0).toLowerCase() + sentence.slice(1, -1);
  const [, done = ""] = /( not \S+)$/.exec(words) ?? [];
  const some = words.slice(0, words.length - done.length).split(/, | and /);
  const joined = (from, to) => some.slice(from, to).join(" and ") + done;
  return (
    undone.includes(words) ||
    some.every((_, at) =>
      some.some((_, from) =>
        some.some((_, to) => from <= at && at < to + 1 && undone.includes(joined(from, to + 1))),
      ),
    )
  );
}

/** What makes a thing one of each kind that the plan asks otherwise, and what makes it none of them. */
const kindsOf = ({ kinds }) => ["thing", ...(kinds ?? []).map(({ named }) => named[0])];

const made = plans.flatMap((plan, at) => {
  const below = chance(SEED + 1000 * at);
  return Array.from({ length: ROUNDS }, (_, round) => ({
    of: `${plan.class_id} ${round}`,
    plan,
    values: {
      ...anyRecord(book, plan, below),
      short_description: kindsOf(plan)[round % kindsOf(plan).length],
    },
  }));
});
const records = sampled(made, OF, ({ plan }) => plan.class_id).map(({ of, plan: whole, values }) => {
  const record = recordOf(values);
  const plan = planOfKind(whole, record);
  const paragraph = conditionParagraph(plan, book, record);
  const answers = fiveAnswers(plan, book, record);
  const lot = [lotHeading(book, record), ...lotDescription(plan, book, record)];
  return { of, plan, values, paragraph, answers, lot };
});

/** What a zone may be called: itself, or with all of its group. */
function namesOf(zone) {
  const { one, many, group } = book.print.zones.find((known) => known.zone === zone.split("/")[0]);
  return [one, many, group?.one, group?.many].filter(Boolean);
}

const family = (values, name) => Object.entries(values).filter(([field]) => field.startsWith(`${name}/`));
const seen = (values) =>
  family(values, "findings").filter(([, value]) => !value.withdrawn && value.certainty !== "told");
const denied = book.vocabulary.terms.map(({ absent }) => absent);
const ABSENT = new RegExp(`(is|are) (${denied.filter(Boolean).join("|")}), `);
const held = book.vocabulary.terms.flatMap(({ part, held }) =>
  held ? part.map((one) => `${one} .*${held}`) : [],
);
const HELD = new RegExp(`^The (${held.join("|")}) `);
const isDenial = (words) =>
  /^(?:Before (?:it was|they were) checked in, n|N)o /.test(words) || ABSENT.test(words) || HELD.test(words);
const words = (sentences) => sentences.map((one) => one.words).join(" ");
const saying = (sentences, field) => sentences.filter(({ from }) => from.includes(field));
const isFamily = (one, other) =>
  one === other || terms.get(one).covers.includes(other) || terms.get(other).covers.includes(one);

function meet(plan, one, other) {
  const [zone, another] = [one.split("/")[0], other.split("/")[0]];
  if (zone === another) return one === other || one === zone || other === zone;
  const holds = (outer, inner) =>
    outer === "outline" || plan.zones.find((known) => known.zone === outer)?.holds.includes(inner);
  const sides = [one, other].map((key) => key.split("/")[1]);
  const both = [zone, another].map((name) => plan.zones.find((known) => known.zone === name)?.members ?? []);
  if (sides[0] !== sides[1] && sides.every((side) => side && both.every((members) => members.includes(side))))
    return false;
  return holds(zone, another) || holds(another, zone);
}

/** Whether what is on another zone speaks against a denial on this one. */
const speaksFrom = (plan, another, key) =>
  meet(plan, another, key) ||
  plan.zones.some(({ zone, beside }) => zone === key.split("/")[0] && beside.includes(another.split("/")[0]));

/** What the trials that failed, also in part, could not rule out. */
const failed = (plan, values) =>
  plan.tests
    .filter(
      ({ test: name, of: zones }) =>
        ["works-in-part", "no-response"].includes(values[`tests/${name}`]?.result) &&
        !(zones.length && zones.every((zone) => isGone(plan, values, zone))),
    )
    .flatMap(({ rules_out }) => rules_out ?? []);
const isMissing = (values, key) =>
  seen(values).some(
    ([, { zone, term, extent_count }]) =>
      [key, key.split("/")[0]].includes(zone) && term === "missing-part" && !extent_count,
  );
const isLacking = (values, key) =>
  isMissing(values, key) ||
  (values[`zones/${key}`]?.reason === "not-applicable" && !seen(values).some(([, { zone }]) => zone === key));
const isGone = (plan, values, zone) =>
  plan.zones
    .filter((one) => one.zone === zone)
    .flatMap(keysOf)
    .every(
      (key) =>
        isMissing(values, key) ||
        (values[`zones/${key}`]?.reason === "not-applicable" &&
          !seen(values).some(([, one]) => one.zone === key)),
    );
/** Whether fewer are there of a zone than were called for; of `term`, if it is asked for. */
const isShortOf = (plan, values, { zone, term }) =>
  plan.measures
    .filter(
      ({ measure, short_of }) => values[`measures/${measure}`]?.value < values[`measures/${short_of}`]?.value,
    )
    .some(
      ({ rules_out: { zones, terms } }) =>
        zones.some((one) => meet(plan, one, zone)) && (!term || terms.includes(term)),
    );
/** That there is nothing to report of zones; of a look alone it is said otherwise. */
const QUIET = /\b(no (further )?(such )?fault noted|no sign of later work noted) on /i;
/** Whether it tells how zones were looked at: with nothing to report, or with nothing more to say of them. */
const isOfLook = ({ keys }) => keys.some((key) => key.startsWith("clear/"));
/** That nobody noted whether a part is there: it was ticked, and nothing more is on record of it. */
const isOfTick = ({ keys }) => keys.some((key) => key.startsWith("there/"));
/** Whether a question cannot be put to a thing, since it has none of what is asked about. */
const isNotPut = (plan, values, { put_to }) =>
  put_to.length > 0 &&
  plan.zones
    .filter(({ zone }) => put_to.includes(zone))
    .flatMap(keysOf)
    .every((key) => isLacking(values, key) && !isMissing(values, key));
/** Whether a mark that stands on a zone is told, with what it is held for. */
const isMarkTold = (plan, values, answer, key) =>
  saying(answer, "marks/0").length > 0 &&
  values["marks/0"].standing &&
  plan.zones
    .find(({ zone }) => zone === key.split("/")[0])
    .wording.some(
      (word) => [values["marks/0"].technique, "any"].includes(word) || values["marks/0"].place.includes(word),
    );
/** Whether all of a zone may be gone, since some of it is and nobody counted how many there were. */
const isPerhapsGone = (values, key) =>
  seen(values).some(
    ([, { zone, term }]) => term === "missing-part" && [key, key.split("/")[0]].includes(zone),
  );
/** Of what nobody looked at. */
const isOpen = (words) =>
  /^(Not examined|Nothing is recorded|Without|Not graded|.*so far as examined)/.test(words);

function eachRecord(check) {
  for (const one of records) check(one);
}

test("every finding that was seen is said, what was withdrawn or told is not", () =>
  eachRecord(({ of, values, paragraph }) => {
    for (const [field, value] of family(values, "findings")) {
      const isSaid = saying(paragraph, field).length > 0;
      if (value.withdrawn || value.certainty === "told") assert.ok(!isSaid, `${of}: ${field} is said`);
      else if (value.severity > 0) assert.ok(isSaid, `${of}: ${field} is left out of ${words(paragraph)}`);
    }
  }));

test("no count and no measure of a finding is lost", () =>
  eachRecord(({ of, values, paragraph }) => {
    for (const [field, value] of seen(values)) {
      const said = words(
        saying(paragraph, field).filter(
          ({ words }) => !/^(Kept apart|Examined)\b| may get worse\.$/.test(words),
        ),
      );
      if (!said) continue;
      const { extent_mm: mm, extent_mm_across: across, extent_percent: percent, extent_count: count } = value;
      const size = (length) => (length < 100 ? `${length}` : `${(length / 10).toFixed(1)} cm`);
      const both = [mm, across].some((length) => length >= 100)
        ? `${(mm / 10).toFixed(1)} x ${(across / 10).toFixed(1)} cm`
        : `${mm} x ${across} mm`;
      if (across) assert.ok(said.includes(both), `${of}: ${both} is lost in ${said}`);
      else if (mm) assert.ok(said.includes(size(mm)), `${of}: ${mm} mm is lost in ${said}`);
      if (percent) assert.match(said, percent === 100 ? /all over/ : /about 30 per cent/, of);
      if (count > 1)
        assert.match(
          said,
          new RegExp(`\\b(${NUMBERS[count]}|${count}|both|twice)\\b`, "i"),
          `${of}: ${count}`,
        );
      if (value.note) assert.ok(said.includes(value.note), `${of}: a note is lost in ${said}`);
      if (value.extent_words) assert.ok(said.includes("in traces"), `${of}: ${said}`);
    }
  }));

/**
 * The lengths that a text tells, each with what it is of: "height by width of the sheet 25.5 x 33.0 cm and with frame
 * 40.0 x 47.0 cm" tells four. What a phrase begins with goes on for the next.
 */
function lengthsTold(text) {
  const dimension = "height|length|width|depth|diameter";
  let dimensions = [];
  return [...text.matchAll(/([a-z' -]*?) ?([\d.]+(?: x [\d.]+)*) (cm|mm)\b/gi)].flatMap(
    ([, before, sizes, unit]) => {
      const named = new RegExp(`^(?:.*?\\band )?((?:(?:${dimension})(?: by )?)+)(?: (.*))?$`, "i");
      const [, begins, of = ""] = named.exec(before.trim()) ?? [];
      const name = before.trim().replace(/^(.* )?and /, "");
      if (begins) dimensions = begins.toLowerCase().split(" by ");
      return sizes.split(" x ").map((size, at) => `${dimensions[at]} ${begins ? of : name} ${size} ${unit}`);
    },
  );
}

test("no size is lost, nor what it is of, however many are told in one phrase", () =>
  eachRecord(({ of, plan, values, lot }) => {
    const text = words(lot);
    const told = lengthsTold(text);
    for (const { measure, words: typed, print, read_off, called = [] } of plan.measures) {
      const size = values[`measures/${measure}`];
      const isCalled = ({ of }) => of.some((word) => ` ${values.short_description} `.includes(` ${word} `));
      const name =
        called.find(isCalled)?.print ?? print ?? typed.split(/[;,(]/)[0].replace(" in grams", "").trim();
      const [, dimension, what = ""] = /^(height|length|width|depth|diameter)(?: (.*))?$/.exec(name) ?? [];
      if (size?.unit !== "mm" || read_off || !dimension) continue;
      const either = [`${size.value} mm`, `${(size.value / 10).toFixed(1)} cm`];
      const isTold = either.some((length) => told.includes(`${dimension} ${what} ${length}`));
      assert.ok(isTold, `${of}: ${name} ${either} is lost in ${text}, which tells ${told.join("; ")}`);
      if (size.basis) assert.ok(text.includes(size.basis), `${of}: ${size.basis} is lost in ${text}`);
    }
  }));

test("nothing is denied beside a finding of it or of its family", () =>
  eachRecord(({ of, plan, values, paragraph, answers }) => {
    for (const [field, denial] of family(values, "denials")) {
      const against = seen(values).find(
        ([, found]) => speaksFrom(plan, found.zone, denial.zone) && isFamily(found.term, denial.term),
      );
      const unseen = values[`zones/${denial.zone}`]?.state === "not-examined";
      const said = [...paragraph, ...answers.flatMap(({ answer }) => answer)].filter(
        ({ words, from }) => from.includes(field) && isDenial(words),
      );
      if (against || unseen || denial.withdrawn) assert.equal(said.length, 0, `${of}: ${words(said)}`);
    }
    const denied = paragraph.filter(({ words }) => isDenial(words));
    for (const { from } of denied)
      assert.ok(
        from.some((field) => /^(denials|tests)\//.test(field)),
        of,
      );
  }));

/** Whether nothing on record speaks against a denial, nor near it. */
const stands = (plan, values, denial) =>
  !denial.withdrawn &&
  values[`zones/${denial.zone}`]?.state !== "not-examined" &&
  !(
    seen(values).some(([, found]) => speaksFrom(plan, found.zone, denial.zone)) ||
    family(values, "origins").some(([zone]) =>
      speaksFrom(plan, zone.slice("origins/".length), denial.zone),
    ) ||
    failed(plan, values).some((one) => one.terms.includes(denial.term)) ||
    isShortOf(plan, values, denial) ||
    (denial.term === "mark-illegible" && !values["marks/0"].withdrawn) ||
    plan.tests.some(
      ({ test, looks }) => values[`tests/${test}`]?.result === "not-done" && denial.light === (looks ?? test),
    )
  );

test("a denial that nothing speaks against is said", () =>
  eachRecord(({ of, plan, values, paragraph }) => {
    for (const [field, denial] of family(values, "denials"))
      if (stands(plan, values, denial))
        assert.equal(
          saying(paragraph, field).some(({ words }) => isDenial(words)),
          true,
          `${of}: ${field}`,
        );
  }));

test("an answer tells what was found before what was looked for in vain", () =>
  eachRecord(({ of, answers }) => {
    for (const { question, answer } of answers) {
      const at = (family) => answer.map(({ keys }) => keys.some((key) => key.startsWith(family)));
      const denied = at("denials/").indexOf(true);
      assert.ok(denied < 0 || at("findings/").lastIndexOf(true) < denied, `${of}: ${question}`);
    }
  }));

test("of every light that was looked with something is said: what it showed, or that there was nothing to report", () =>
  eachRecord(({ of, plan, values, paragraph }) => {
    const tools = asText(paragraph.filter(({ keys }) => keys.includes("lights")));
    const said = asText(paragraph.filter(({ keys }) => !keys.includes("lights"))).toLowerCase();
    for (const { test: name, looks, said: looked } of plan.tests) {
      const made = values[`tests/${name}`];
      if (!looks || made?.result !== "works" || made.note || !tools) continue;
      const light = book.words.lights.find((one) => one.light === looks);
      assert.ok(
        [light.how, looked].some((one) => said.includes(one)),
        `${of}: ${light.how} is in no sentence: ${said}`,
      );
    }
  }));

test("nobody says that nothing is recorded of what was looked at for a fault", () =>
  eachRecord(({ of, plan, values, paragraph, answers }) => {
    const standing = family(values, "denials").filter(([, denial]) => stands(plan, values, denial));
    for (const { words } of [...paragraph, ...answers.flatMap(({ answer }) => answer)]) {
      if (!/[Nn]othing is recorded of/.test(words)) continue;
      for (const [, { zone }] of standing) {
        const { one, many } = book.print.zones.find((known) => known.zone === zone.split("/")[0]);
        if (zone.includes("/")) continue; // a member's name stands among those of its fellows
        const nouns = [one, many].filter(Boolean).join("|");
        assert.doesNotMatch(words, new RegExp(`(of|or|,) (the )?(${nouns})( or|,|\\.)`), `${of}: ${zone}`);
      }
    }
  }));

test("nothing is denied, or has nothing to report, of which fewer are there than were called for", () =>
  eachRecord(({ of, plan, values, paragraph, answers }) => {
    const all = [...paragraph, ...answers.flatMap(({ answer }) => answer)];
    for (const [field, denial] of family(values, "denials"))
      if (isShortOf(plan, values, denial)) assert.equal(saying(all, field).length, 0, `${of}: ${field}`);
    for (const { words, from } of all.filter((one) => QUIET.test(one.words) && !OF_KIND.test(one.words)))
      for (const field of from)
        assert.ok(!isShortOf(plan, values, { zone: values[field].zone ?? keyOf(field) }), `${of}: ${words}`);
  }));

test("nothing is denied that a trial failed to rule out, or of marks that cannot be read", () =>
  eachRecord(({ of, plan, values, paragraph, answers }) => {
    for (const [field, denial] of family(values, "denials")) {
      const isFaulty = failed(plan, values).some(
        ({ zones, terms }) =>
          terms.includes(denial.term) &&
          (!zones.length || zones.some((zone) => meet(plan, zone, denial.zone))),
      );
      const mark = values["marks/0"];
      const isUnread =
        denial.term === "mark-illegible" && !mark.withdrawn && mark.completeness === "illegible";
      if (!isFaulty && !isUnread) continue;
      const said = saying([...paragraph, ...answers.flatMap(({ answer }) => answer)], field);
      assert.equal(said.filter(({ words }) => isDenial(words)).length, 0, `${of}: ${words(said)}`);
    }
  }));

test("of what is missing or never was there no trial tells what came of it, nor anybody what it was", () =>
  eachRecord(({ of, plan, values, paragraph }) => {
    for (const { test: name, of: zones } of plan.tests) {
      const isNothing = zones.length && zones.every((zone) => isGone(plan, values, zone));
      const { note } = values[`tests/${name}`] ?? {};
      const said = saying(paragraph, `tests/${name}`).map((one) => one.words);
      if (isNothing)
        assert.ok(
          said.every((one) => note && one.endsWith(`: ${note}.`)),
          `${of}: ${said}`,
        );
    }
    for (const [field, { note }] of family(values, "origins"))
      if (isLacking(values, field.slice("origins/".length)) && !note)
        assert.equal(saying(paragraph, field).length, 0, of);
  }));

test("what was told names no light, and takes none from what was seen beside it", () =>
  eachRecord(({ of, plan, values, paragraph, answers }) => {
    for (const { words } of answers.flatMap(({ answer }) => answer))
      if (/^According to the owner/.test(words))
        for (const { how } of book.words.lights)
          assert.ok(!new RegExp(`(seen|felt|heard|found|smelled) ${how}`).test(words), `${of}: ${words}`);
    const told = family(values, "findings").filter(([, { certainty }]) => certainty === "told");
    if (told.some(([, { activity }]) => activity === "Q")) return; // it is kept apart for it
    const without = Object.fromEntries(
      Object.entries(values).filter(([name]) => !told.some(([id]) => id === name)),
    );
    const seenOnly = conditionParagraph(plan, book, recordOf(without)).filter(({ words }) => !isOpen(words));
    assert.deepEqual(
      paragraph.filter(({ words }) => !isOpen(words)).map(({ words }) => words),
      seenOnly.map(({ words }) => words),
      of,
    );
  }));

test("no light is named that was not recorded, and none beside a finding but its own or its zone's", () =>
  eachRecord(({ of, plan, values, paragraph }) => {
    const recorded = new Set([
      ...["zones", "denials", "findings"].flatMap((name) =>
        family(values, name).map(([, { light }]) => light),
      ),
      ...plan.tests.map(({ test, looks }) => values[`tests/${test}`] && looks),
    ]);
    const isZone = (light) => plan.zones.some(({ zone }) => zone === `${light}s`); // a mark may be "on a scale"
    for (const { light, how, tool } of book.words.lights.filter(({ light }) => !isZone(light))) {
      const asTool = new RegExp(`^Examined (.*(, | and ))?(with )?${tool}(\\.|,| and )`);
      const named = paragraph.filter(
        ({ words }) => !isOfUndone(plan, words) && (words.includes(` ${how}`) || asTool.test(words)),
      );
      const tried = light === "breath" && values["tests/breath"]; // said of the test, too
      if (!recorded.has(light) && !tried) assert.equal(named.length, 0, `${of}: ${words(named)}`);
      for (const [field, value] of seen(values))
        for (const { words } of saying(paragraph, field))
          if (new RegExp(`(seen|felt|smelled|heard|found) ${how}`).test(words))
            assert.ok([value.light, values[`zones/${value.zone}`]?.light].includes(light), `${of}: ${words}`);
    }
  }));

test("every zone is examined, not examined and why, never there, or nothing is recorded of it", () =>
  eachRecord(({ of, plan, values, paragraph }) => {
    const open = words(paragraph.filter(({ words }) => /^Nothing (else )?is recorded/.test(words)));
    // Nobody misses the other shoulder of a necklace of which one was ticked before it was called so.
    const own = plan.zones.filter((zone) => !isOfOtherKind(recordOf(values), zone));
    for (const key of own.flatMap(keysOf)) {
      const state = values[`zones/${key}`];
      if (state?.state === "not-examined" && state.reason !== "not-applicable")
        assert.ok(
          saying(paragraph, `zones/${key}`).some(({ words }) =>
            (seen(values).some(([, { zone }]) => zone === key) || saying(paragraph, `origins/${key}`).length
              ? /^Not examined further: .+; .+/
              : /^Not examined: .+; .+/
            ).test(words),
          ),
          `${of}: ${key}`,
        );
      else if (
        !state &&
        !seen(values).some(([, { zone }]) => zone === key) &&
        !family(values, "findings").some(([, { zone, withdrawn }]) => zone === key && !withdrawn)
      ) {
        assert.ok(
          namesOf(key).some((noun) => open.includes(noun)),
          `${of}: ${key} is not in ${open}`,
        );
      }
    }
  }));

test("every answer holds every finding that bears on its question, and what is told is told", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const [at, question] of plan.questions.entries())
      for (const [field, { zone, term, withdrawn, certainty, note }] of family(values, "findings")) {
        const said = saying(answers[at].answer, field);
        // What is missing beside a thing is an answer to who asks for papers only where its note may be of paper.
        const isNoPaper =
          question.paper_only?.includes(zone) && term === "missing-part" && note && !/paper/.test(note);
        if (withdrawn) assert.equal(said.length, 0, of);
        const asked = question.zones.some(
          (one) => one !== "outline" && zone !== "outline" && meet(plan, one, zone),
        );
        const { family: of_term } = terms.get(term);
        const weighty = ["structural", "loss", "previous intervention"].includes(of_term);
        const aside = [term, of_term].some((one) => question.aside.includes(one));
        const isOne = (one) => one === term || (isFamily(one, term) && !aside);
        const named = [...question.terms, ...question.anywhere].some(isOne);
        const isPut = !isNotPut(plan, values, question) && !question.aside.includes(zone.split("/")[0]);
        const fits = !question.terms.length || (weighty && !aside);
        const usual = plan.zones
          .filter((one) => question.zones.includes(one.zone))
          .some((one) => one.usual.some((name) => isFamily(name, term)));
        const gone = Object.entries(values).filter(
          ([name, { reason }]) =>
            reason === "not-applicable" && question.zones.includes(name.split("/")[1] ?? ""),
        );
        const isThere = gone.length < plan.zones.filter((one) => question.zones.includes(one.zone)).length;
        const bears =
          isPut &&
          !isNoPaper &&
          (question.anywhere.some(isOne) ||
            (zone === "outline" && named) ||
            (asked && (named || fits)) ||
            (zone === "outline" && question.zones.includes(zone) && fits) ||
            (zone === "outline" && isThere && fits && usual));
        if (bears && !withdrawn)
          assert.ok(said.length, `${of}: ${question.question} leaves out ${term} on ${zone}`);
        if (
          zone === "outline" &&
          !named &&
          !usual &&
          !question.zones.includes(zone) &&
          !question.unless_origin
        )
          assert.equal(said.length, 0, `${of}: ${question.question} is answered with ${term} of the whole`);
        for (const { words } of said)
          assert.equal(/^According to the owner/.test(words), certainty === "told", `${of}: ${words}`);
      }
  }));

/** Whether a field says what became of a part since it was made: that it is the first one is no fault. */
function isChange(values, field) {
  if (!field.startsWith("origins/")) return false;
  const row = book.words.originalities.find(({ originality }) => originality === values[field].origin);
  return Boolean(row?.denies.length);
}

/** Whether a sentence says that the whole is held back, before the first answer. */
function isLead([first], sentence) {
  return first.answer.includes(sentence) && sentence.from.some((field) => field.startsWith("cautions/"));
}

test("nothing to report is said only of zones of which nothing that bears on the question was found", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const { answer } of answers)
      for (const sentence of answer.filter((one) => QUIET.test(one.words))) {
        const { words, from } = sentence;
        const others = answer.filter((one) => one !== sentence && !isOfLook(one) && !isLead(answers, one));
        const zonesOf = (field) => values[field].zone ?? keyOf(field);
        assert.match(
          words,
          /^(Before it was checked in, n|N)(o (further )?(such )?fault noted|o sign of later work noted) on /,
          of,
        );
        const isOther = from.some(
          (field) =>
            isShortOf(plan, values, { zone: zonesOf(field) }) ||
            seen(values).some(
              ([found, { zone }]) => meet(plan, zone, zonesOf(field)) && !saying(others, found).length,
            ) ||
            failedTrials(plan, values).some((one) => isTriedOn(plan, one, zonesOf(field))),
        );
        assert.equal(OF_KIND.test(words), isOther, `${of}: ${words}`);
        const isFound = others.some((one) =>
          one.from.some(
            (field) =>
              seen(values).some(([found]) => found === field) ||
              field.startsWith("cautions/") ||
              isChange(values, field) ||
              failedTrials(plan, values).some(({ test }) => field === `tests/${test}`),
          ),
        );
        const isOfLaterWork = words.includes("later work"); // none was seen there, whatever was found beside
        assert.equal(/\bno further /i.test(words), isFound && !isOfLaterWork, `${of}: ${words}`);
        for (const field of from)
          for (const [found, { zone }] of seen(values))
            if (saying(others, found).length && zone.split("/")[0] === zonesOf(field).split("/")[0])
              assert.ok(!meet(plan, zone, zonesOf(field)), `${of}: ${found} stands beside ${words}`);
      }
  }));

test("nothing is to be reported of no zone that failed a trial that is told, or on which a caution stands", () =>
  eachRecord(({ of, plan, values, answers }) => {
    const cautions = family(values, "cautions");
    const isOnAll = ({ zone }) => !zone || zone === "outline";
    for (const [at, question] of plan.questions.entries()) {
      const { answer } = answers[at];
      for (const { words, from } of answer.filter((one) => QUIET.test(one.words)))
        for (const key of from.map((field) => values[field].zone ?? keyOf(field))) {
          const failed = failedTrials(plan, values).filter((one) => isTriedOn(plan, one, key));
          for (const { test } of failed) {
            assert.match(words, OF_KIND, `${of}: ${question.question} ${test}: ${words}`);
            assert.equal(saying(answer, `tests/${test}`).length, 0, `${of}: ${test} failed: ${words}`);
            assert.ok(!question.tests.includes(test), `${of}: ${test} failed: ${words}`);
          }
          const held = cautions.filter(([, one]) =>
            isOnAll(one)
              ? question.facts.includes("cautions") || question.hazards.includes(one.hazard)
              : meet(plan, one.zone, key),
          );
          assert.equal(held.length, 0, `${of}: held is ${key}: ${words}`);
        }
      for (const [field, one] of cautions.filter(([, { level }]) => level === "amber")) {
        const isUnsaid = book.cautions.cautions.some(({ hazard, unsaid }) => hazard === one.hazard && unsaid);
        const isOfIt =
          question.facts.includes("cautions") ||
          question.hazards.includes(one.hazard) ||
          (!isOnAll(one) && question.zones.some((zone) => zone !== "outline" && meet(plan, zone, one.zone)));
        const isAsked = at === 0 || (isOfIt && !isUnsaid);
        assert.equal(saying(answer, field).length > 0, isAsked, `${of}: ${question.question} ${one.zone}`);
      }
    }
  }));

/** Trials and looks that failed, also in part; none that measured. */
function failedTrials(plan, values) {
  return plan.tests.filter(
    ({ test, measures, of: zones }) =>
      !measures.length &&
      ["works-in-part", "no-response"].includes(values[`tests/${test}`]?.result) &&
      !(zones.length && zones.every((zone) => isGone(plan, values, zone))),
  );
}
/** What is tried on a part may be of the whole, and leaves no other part open. */
function isTriedOn(plan, { of: zones, shows, rules_out }, key) {
  const tried = [...zones, ...(shows ?? []), ...(rules_out?.zones ?? [])];
  const parts = tried.filter((zone) => zone !== "outline");
  if (!tried.length) return rules_out?.terms.length > 0;
  return (parts.length ? parts : tried).some((zone) => meet(plan, zone, key));
}

test("asked what is original or belongs, each part is judged or said not to be noted", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const [at, question] of plan.questions.entries()) {
      const { answer } = answers[at];
      const { unless_origin, of_rest } = question;
      const open = words(
        answer.filter(({ words }) => /^(Beyond this, w|W)hether .* was not noted\.$/.test(words)),
      );
      if (!of_rest || open.toLowerCase().includes(unless_origin)) continue;
      // That a dial was restored or painted over does not say that it belongs.
      const isOfBelonging = /\b(belongs?|right|of one instrument)\b/.test(unless_origin);
      const isMade = ({ origin }) => ["restored", "repaired", "refinished", "altered"].includes(origin);
      const isJudged = (key) =>
        Object.entries(values).some(([field, value]) => {
          if (field.startsWith("statements/")) return saying(answer, field).length;
          if (field.startsWith("origins/"))
            return value.origin && !(isOfBelonging && isMade(value)) && meet(plan, keyOf(field), key);
          if (!value?.term || !saying(answer, field).length) return false;
          if (isOfBelonging && !["associated-part", "replaced-part"].some((one) => isFamily(one, value.term)))
            return value.origin === "replaced" && meet(plan, value.zone, key);
          return terms.get(value.term).family === "previous intervention" && meet(plan, value.zone, key);
        });
      for (const zone of plan.zones.filter((one) => of_rest.zones.includes(one.zone)))
        for (const key of keysOf(zone)) {
          const { state } = values[`zones/${key}`] ?? {};
          if (state !== "clear" || isGone(plan, values, zone.zone) || isJudged(key)) continue;
          const { one, many } = book.print.zones.find((known) => known.zone === zone.zone);
          assert.ok(open.includes(one) || open.includes(many), `${of}: ${question.question} ${key}: ${open}`);
        }
    }
  }));

const keyOf = (field) => field.slice(field.indexOf("/") + 1);
const PLACED = ["zones", "origins"];

/** Whether an answer says of a zone that it was not tried, or that what is asked of it was not noted: no "no" of it. */
function isToldOpen(plan, { by_trial }, values, answer, key) {
  const zone = key.split("/")[0];
  const isOpenBy = ({ test, of, rules_out }) =>
    [...of, ...(rules_out?.zones ?? [])].includes(zone) &&
    answer.some(
      ({ keys, from }) =>
        keys.includes(`untried/${test}`) ||
        (from.includes(`tests/${test}`) && values[`tests/${test}`].result === "not-done"),
    );
  return (
    answer.some(({ keys }) => keys.includes(`there/${key}`)) ||
    (by_trial.includes(zone) && plan.tests.some(isOpenBy))
  );
}

test("every zone that is asked about is named in the answer: found on, clear, not looked at, or never there", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const [at, question] of plan.questions.entries()) {
      const { answer } = answers[at];
      const said = words(answer);
      if (/[Nn]othing is recorded of any part/.test(said) || isNotPut(plan, values, question)) continue;
      const named = answer.flatMap(({ from }) =>
        from.flatMap((field) => {
          if (/^(findings|denials)\//.test(field)) return values[field].zone;
          return PLACED.includes(field.split("/")[0]) ? keyOf(field) : [];
        }),
      );
      const open = words(
        answer.filter(({ words }) => /[Nn]othing (else |of the kind )?is recorded of/.test(words)),
      );
      // Limbs that were not moved tell that nobody knows of their stringing.
      const isToldUntried = ({ tests }) =>
        answer.some(({ from }) =>
          from.some(
            (field) => tests.some((test) => field === `tests/${test}`) && values[field].result === "not-done",
          ),
        );
      const asked = question.zones.filter((zone) => !question.faults_only.includes(zone));
      for (const zone of plan.zones.filter((one) => asked.includes(one.zone)))
        for (const key of keysOf(zone)) {
          const { one, many, tally } = book.print.zones.find((known) => known.zone === zone.zone);
          const isLacking = keysOf(zone).every((other) => !isThere(values, other));
          const isNamedIn = [one, many].some((noun) =>
            new RegExp(`\\b${noun}\\b`, "i").test(question.question),
          );
          if (tally) continue; // of a number of things nobody knows what a fault of it is
          if (!isThere(values, key) && (zone.zone === "outline" || !isLacking || !isNamedIn)) continue;
          const isNamed =
            named.some((other) => other.split("/")[0] === zone.zone && meet(plan, other, key)) ||
            namesOf(zone.zone).some((noun) => open.includes(noun)) ||
            isMarkTold(plan, values, answer, key) ||
            isToldUntried(zone) ||
            isToldOpen(plan, question, values, answer, key) ||
            // Of marks that nobody looked for, and the owner alone told of, none was copied.
            (namesOf(zone.zone).includes("marks") && /\bno marks were copied\b/i.test(said)) ||
            isPerhapsGone(values, key); // that it is missing may be no matter of the question
          assert.ok(isNamed, `${of}: ${question.question} passes over ${key}: ${said}`);
        }
    }
  }));

const isThere = (values, key) => values[`zones/${key}`]?.reason !== "not-applicable";

test("no sentence stands twice, each begins and ends as one, and rests on what is on record", () =>
  eachRecord(({ of, plan, values, paragraph, answers, lot }) => {
    for (const text of [paragraph, lot, ...answers.map(({ answer }) => answer)]) {
      assert.equal(new Set(text.map(({ words }) => words)).size, text.length, `${of}: ${words(text)}`);
      for (const { words, from } of text) {
        assert.match(words, /^[A-Z0-9“].*[^.\s,:;]\.?$/, of);
        assert.doesNotMatch(words, /undefined|null|NaN|\[object|SECRET| {2}| ,|,,|: ?:|\.\./, of);
        for (const field of from) assert.ok(field in values, `${of}: ${words} rests on ${field}`);
        if (!from.length && !isOfUndone(plan, words)) assert.match(words, RESTS_ON_SILENCE, of);
      }
    }
  }));

test("nothing is said to show no sign of being, nor is the whole put in a place", () =>
  eachRecord(({ of, values, paragraph, answers }) => {
    for (const { words, from } of [...paragraph, ...answers.flatMap(({ answer }) => answer)]) {
      assert.doesNotMatch(words, /^No sign .* being /, of);
      // What has no noun of its own is the whole, where it is out of shape or loose.
      const isState = from.some((field) => terms.get(values[field]?.term)?.family === "structural");
      assert.doesNotMatch(words, isState ? /\bthe whole (has|are)\b/i : /\bthe whole (is|has|are)\b/i, of);
    }
  }));

test("a caution is printed by its sign and where that was seen, and the same in the answers, never by what it may be", () =>
  eachRecord(({ of, values, paragraph, answers }) => {
    for (const [field, { hazard, level, sign }] of family(values, "cautions")) {
      const said = [...paragraph, ...answers.flatMap(({ answer }) => answer)].filter(({ from }) =>
        from.includes(field),
      );
      const { name, unsaid } = book.cautions.cautions.find((row) => row.hazard === hazard);
      if (level !== "note") assert.ok(said.length > 0, of);
      for (const { words } of said) {
        assert.equal(words.includes(sign), !unsaid, `${of}: ${words}`);
        assert.ok(!words.toLowerCase().includes(name.toLowerCase()), `${of}: ${words}`);
      }
      assert.equal(new Set(said.map(({ words }) => words)).size, level === "note" ? 0 : 1, of);
    }
  }));

test("the method stays off the page", () =>
  eachRecord(({ of, paragraph, answers }) => {
    for (const { words } of [...paragraph, ...answers.flatMap(({ answer }) => answer)])
      assert.doesNotMatch(words, METHOD, of);
  }));

test("articles and numbers agree", () =>
  eachRecord(({ of, plan, paragraph, answers, lot }) => {
    for (const { words } of [...paragraph, ...lot, ...answers.flatMap(({ answer }) => answer)]) {
      assert.doesNotMatch(words, /(?<!\bof )\b(an?|the) (an?|the|one|two|both|all|no)\b/i, `${of}: ${words}`);
      assert.doesNotMatch(words, /\ba [aeiou](?!ne\b)|\ban [^aeiouh0-9]/i, `${of}: ${words}`);
      assert.doesNotMatch(words, /\b(probably|possibly)\b[^.:]*\b(probably|possibly)\b/i, of);
    }
    for (const { zone } of plan.zones) {
      const name = book.print.zones.find((known) => known.zone === zone);
      for (const { words } of paragraph) {
        const begins = words.replace(/^Whether /, "");
        if (name.plural && name.many !== name.one)
          assert.doesNotMatch(
            begins,
            new RegExp(`^(?!one of )[^,:]*\\b(the|both|two|all \\w+) ${name.many} is\\b`, "i"),
            of,
          );
        if (!name.plural) assert.doesNotMatch(begins, new RegExp(`^the ${name.one} are\\b`, "i"), of);
        assert.doesNotMatch(begins, new RegExp(`^One ${name.one} are\\b`), of);
      }
    }
  }));

test("what only the owner told names no light: nobody looked with one", () =>
  eachRecord(({ of, answers }) => {
    const told = answers.flatMap(({ answer }) => answer).filter(({ words }) => /^According to/.test(words));
    for (const { words } of told)
      for (const { how } of book.words.lights)
        assert.doesNotMatch(words, new RegExp(`(seen|felt|smelled|heard|found) ${how}`), of);
  }));

test("no finding stands twice in an answer, and none in other words than in the paragraph", () =>
  eachRecord(({ of, values, paragraph, answers }) => {
    for (const { question, answer } of answers)
      for (const [field] of family(values, "findings")) {
        const said = saying(answer, field).filter(
          ({ words, keys }) => !isOfLook({ keys }) && !/ not copied\.$/.test(words),
        );
        assert.ok(said.length < 2, `${of}: ${question}: ${words(said)}`);
        const printed = saying(paragraph, field).flatMap(({ words }) =>
          /^(Kept apart|Examined\b)| may get worse\.$/.test(words) ? [] : words,
        );
        if (printed.length && said.length)
          assert.ok(printed.includes(said[0].words), `${of}: ${said[0].words} is not in ${printed}`);
      }
  }));

test("of a part of which less is denied than a question asks for, the rest is answered, too", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const [at, row] of plan.questions.entries()) {
      const { question, terms: named, anywhere, zones: all, faults_only } = row;
      const zones = all.filter((zone) => !faults_only.includes(zone));
      const { answer } = answers[at];
      const looked = answer
        .filter((one) => isOfLook(one) || isOfTick(one) || /not copied\.$/.test(one.words))
        .flatMap(({ from }) => from);
      const isSaid = ([field]) => saying(answer, field).length > 0;
      const denials = family(values, "denials").filter(isSaid);
      const otherwise = [
        ...seen(values)
          .filter(isSaid)
          .map(([, { zone }]) => zone),
        ...family(values, "origins")
          .filter(isSaid)
          .map(([field]) => keyOf(field)),
      ];
      for (const [, { zone: key }] of denials) {
        const isMember = plan.zones.some((one) => zones.includes(one.zone) && keysOf(one).includes(key));
        if (!isMember || values[`zones/${key}`]?.state !== "clear") continue;
        const here = denials.filter(([, one]) => meet(plan, one.zone, key));
        const isDenied = (term) => here.some(([, one]) => isFamily(one.term, term));
        const isAll = named.length > 0 && [...named, ...anywhere].every(isDenied);
        if (isAll || otherwise.some((zone) => meet(plan, zone, key))) continue;
        if (isMarkTold(plan, values, answer, key) || isPerhapsGone(values, key)) continue;
        if (isToldOpen(plan, row, values, answer, key)) continue;
        assert.ok(looked.includes(`zones/${key}`), `${of}: ${question} ${key}: ${words(answer)}`);
      }
    }
  }));

test("that the thing as a whole has nothing to report is never said: its parts may have", () =>
  eachRecord(({ of, answers }) => {
    for (const one of answers.flatMap(({ answer }) => answer).filter(isOfLook))
      assert.doesNotMatch(one.words, /\bwhole\b/, of);
  }));

test("what differed when it was checked in is said, and beside all that has nothing to report", () =>
  eachRecord(({ of, values, paragraph, answers }) => {
    if (!values["check-in"]) return;
    const noted = values["check-in"].words || "it differed from its pictures";
    assert.ok(words(saying(paragraph, "check-in")).includes(noted), `${of}: ${words(paragraph)}`);
    for (const { question, answer } of answers)
      if (QUIET.test(words(answer)))
        assert.match(
          words(answer),
          new RegExp(`before it was checked in, no(?:thing)? [^.]*(?:to report|noted) .*${noted}`, "i"),
          `${of}: ${question}`,
        );
  }));

test("what was concluded is printed as an opinion, and nothing that it may answer is open before it", () =>
  eachRecord(({ of, plan, values, answers, lot }) => {
    if (!values.concluded_words) return;
    assert.match(
      words(saying(lot, "concluded_words")),
      /^In our opinion: (part of a set|all of it belongs)\.$/,
      of,
    );
    for (const [at, { unless_origin, zones }] of plan.questions.entries()) {
      const { answer } = answers[at];
      const isAsked = zones.some((zone) => zone !== "outline" && !isGone(plan, values, zone));
      if (!unless_origin || !isAsked) continue;
      assert.ok(saying(answer, "concluded_words").length, `${of}: ${words(answer)}`);
      assert.doesNotMatch(words(answer), new RegExp(`\\bW${unless_origin.slice(1)}`), of);
    }
  }));

test("of marks that nobody copied it is never said that there is nothing to report", () =>
  eachRecord(({ of, plan, values, answers }) => {
    if (!values["marks/0"].withdrawn) return;
    const marked = plan.zones.filter(({ wording }) => wording.length).map(({ zone }) => zone);
    assert.ok(marked.length, plan.class_id);
    for (const [at, { zones }] of plan.questions.entries()) {
      const { answer } = answers[at];
      const quiet = answer.filter(({ words }) => QUIET.test(words)).flatMap(({ from }) => from);
      for (const zone of marked.filter((one) => zones.includes(one))) {
        assert.ok(!quiet.includes(`zones/${zone}`), `${of}: ${words(answer)}`);
        if (values[`zones/${zone}`]?.state === "clear" && !isGone(plan, values, zone))
          assert.match(words(saying(answer, `zones/${zone}`)), /\bnot copied\./, `${of}: ${words(answer)}`);
      }
    }
  }));

test("a fault that a question names stands before one of another sort", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const [at, { question, terms: named, anywhere, zones }] of plan.questions.entries()) {
      const all = [...named, ...anywhere];
      const isOn = (zone) =>
        zones.some((one) => (zone === "outline" ? one === zone : one !== "outline" && meet(plan, one, zone)));
      const isNamed = ({ term, zone }) =>
        all.includes(term) || (isOn(zone) && (!named.length || all.some((one) => isFamily(one, term))));
      const found = answers[at].answer.flatMap(({ words, from }) => {
        const fields = from.filter((field) => field.startsWith("findings/"));
        return fields.length &&
          !/^According|^No .*fault noted|^Nothing .* of|^On this|^Before it| examined |not copied\.$/.test(
            words,
          )
          ? [fields.some((field) => isNamed(values[field]))]
          : [];
      });
      const behind = found.indexOf(false);
      assert.ok(
        behind < 0 || !found.slice(behind).includes(true),
        `${of}: ${question}: ${words(answers[at].answer)}`,
      );
    }
  }));

test("where a trial of no zone failed that a question asks for, nothing is said to be without report", () =>
  eachRecord(({ of, plan, values, answers }) => {
    const isOfNone = ({ of: zones, shows, rules_out }) =>
      ![...zones, ...(shows ?? []), ...(rules_out?.zones ?? [])].length;
    for (const { test: name } of failedTrials(plan, values).filter(isOfNone))
      for (const { answer } of answers.filter((one) => saying(one.answer, `tests/${name}`).length))
        for (const { words: said } of answer) assert.doesNotMatch(said, QUIET, `${of}: ${name}`);
  }));

test("no answer says that what is missing was examined", () =>
  eachRecord(({ of, plan, values, answers }) => {
    for (const { question, answer } of answers)
      for (const { words: said, keys } of answer)
        for (const key of keys.filter((one) => one.startsWith("clear/")).map((one) => one.slice(6)))
          assert.ok(!isMissing(values, key), `${of}: ${key} is missing: ${question} ${said}`);
    const [key] = plan.zones.filter(({ zone }) => zone !== "outline").flatMap(keysOf);
    const gone = finding({ zone: key, term: "missing-part", severity: 4 });
    const whole = { ...values, [`zones/${key}`]: clear(), "findings/gone": gone };
    for (const { answer } of fiveAnswers(plan, book, recordOf(whole)))
      assert.ok(!answer.some(({ keys }) => keys.includes(`clear/${key}`)), `${of}: ${key} ${words(answer)}`);
  }));

test("what is all that is on record of a zone is said, though it is no fault", () =>
  eachRecord(({ of, plan, values }) => {
    const [key] = plan.zones.filter(({ zone }) => zone !== "outline").flatMap(keysOf);
    const { [`zones/${key}`]: _, ...rest } = values;
    const fact = finding({
      zone: key,
      term: plan.zones.find(({ usual }) => usual.length).usual[0],
      severity: 0,
    });
    const paragraph = conditionParagraph(plan, book, recordOf({ ...rest, "findings/fact": fact }));
    assert.ok(
      saying(paragraph, "findings/fact").length,
      `${of}: ${key} is in no word of ${words(paragraph)}`,
    );
  }));

test("nothing is denied beside what is the same by another name", () =>
  eachRecord(({ of, values, plan, paragraph }) => {
    const SAME = [
      ["hole", "flight-holes"],
      ["seized", "no-action"],
      ["seized", "stops"],
    ];
    for (const [a, b] of [...SAME, ...SAME.map(([one, other]) => [other, one])]) {
      const zone = plan.zones.find(({ zone }) => zone !== "outline").zone;
      const found = { ...values, "findings/same": finding({ zone, term: a }) };
      const denied = { zone, term: b, light: "lamp", withdrawn: false };
      const said = conditionParagraph(plan, book, recordOf({ ...found, "denials/same": denied }));
      assert.ok(
        !saying(said, "denials/same").length,
        `${of}: ${a}, ${b}: ${words(said)} ${paragraph.length}`,
      );
    }
  }));

test("what is never done is no trial of which a text tells", () =>
  eachRecord(({ of, paragraph, answers }) => {
    const all = words([...paragraph, ...answers.flatMap(({ answer }) => answer)]);
    assert.doesNotMatch(all, /\bNever( \w+)?( not tried|: )/, of);
  }));

test("what an answer says was not tried stands in the paragraph, too", () => {
  const told = records.flatMap(({ plan, paragraph, answers }) =>
    answers.flatMap(({ answer }) =>
      answer
        .filter(({ words, from }) => !from.length && isOfUndone(plan, words))
        .flatMap(({ words }) =>
          partsOf(words).map((words) => ({ words, all: paragraph.flatMap(({ words }) => partsOf(words)) })),
        ),
    ),
  );
  assert.ok(told.length > 20 / OF);
  for (const { words, all } of told) assert.ok(all.includes(words), `${words}: ${all.join(" / ")}`);
});

/** "Pegs and bridge not tried." as "pegs not tried" and "bridge not tried". */
function partsOf(words) {
  const [, some = "", done = ""] = /^(.*)( not \S+)\.$/.exec(words) ?? [words, words.slice(0, -1)];
  return some
    .toLowerCase()
    .split(/, | and /)
    .map((one) => one + done);
}

test("that it has no plating or loading is never said: it may be silver, or nobody knows", () => {
  const all = records.flatMap(({ answers }) => answers.flatMap(({ answer }) => answer));
  for (const { words } of all) assert.doesNotMatch(words, /\bhas no .*\b(plating|loading)\b/);
});

test("a trial that failed stands in an answer, or a finding tells it", () =>
  eachRecord(({ of, plan, values, paragraph, answers }) => {
    for (const { test: name } of failedTrials(plan, values)) {
      if (name.startsWith("never")) continue; // a rule is no trial
      const said = saying(paragraph, `tests/${name}`);
      if (said.length)
        assert.ok(
          answers.some(({ answer }) => saying(answer, `tests/${name}`).length),
          `${of}: ${words(said)}`,
        );
    }
  }));

/** What the desk wrote gives way where the record turns against it: no text says two things that cannot both be so. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { deskAnswers } from "../../web/job/desk_answers.ts";
import { deskTexts, versionOf } from "../../web/job/desk_words.ts";
import { asText } from "../../web/job/sentences.ts";
import { isWhatTurned } from "../../web/job/turned_description.ts";
import { isFindingTurned } from "../../web/job/turned_findings.ts";
import { isKnownTo, isTrialTurned } from "../../web/job/turned_trials.ts";
import { anyRecord, clear, finding, recordOf, written } from "./any_words.js";
import { chance } from "./chance.js";
import { set } from "./made.js";
import { book } from "./plan_book.js";

const textOf = (plan, values) =>
  deskTexts(plan, book, recordOf(values)).find(({ name }) => name === "condition");
const answersOf = (plan, values) =>
  deskAnswers(plan, book, recordOf(values))
    .map(({ answer }) => asText(answer))
    .join("\n");
const unseen = { state: "not-examined", reason: "no-time", light: null, count: null };

/** The condition and the answers after the desk rewrote the sentence that holds some words, and the record changed. */
function after(class_id, short, [holds, words], change) {
  const plan = book.plans[class_id];
  const values = written(plan, short);
  const line = textOf(plan, values).lines.find((one) => one.words.includes(holds));
  const version = versionOf("condition", line, "rewritten", words);
  const now = { ...values, [`sentences/condition/${line.sentence}`]: version, ...change(values) };
  const text = textOf(plan, now);
  const { differs = false } = text.lines.find(({ sentence }) => sentence === line.sentence) ?? {};
  return { words: text.words, differs, answers: answersOf(plan, now) };
}

const CHIP = { findings: [{ zone: "rim", term: "chip", severity: 2, extent_mm: 3 }] };
const CRACKS = {
  denials: [
    ["body", "crack", "lamp"],
    ["rim", "crack", "lamp"],
  ],
};
const chipNow = (more) => (values) => ({ "findings/0": { ...values["findings/0"], ...more } });
const found = (zone, term, severity) => () => ({
  "findings/9": finding({ zone, term, severity }),
  [`zones/${zone}`]: { ...clear(), state: "finding" },
});

/** What was recorded, what the desk made of it, how the record turned, and what is printed then. */
const TURNS = [
  ["becomes hearsay", "ceramics", CHIP, ["A chip", "OURS."], chipNow({ certainty: "told" }), null],
  [
    "becomes a doubt",
    "ceramics",
    CHIP,
    ["A chip", "OURS."],
    chipNow({ certainty: "not-determined" }),
    /Whether/,
  ],
  [
    "moves",
    "ceramics",
    CHIP,
    ["A chip", "OURS."],
    chipNow({ zone: "spout" }),
    /A chip of 3 mm to the spout\./,
  ],
  ["becomes a crack", "ceramics", CHIP, ["A chip", "OURS."], chipNow({ term: "crack" }), /A crack of 3 mm/],
  [
    "is withdrawn and denied",
    "ceramics",
    CHIP,
    ["A chip", "OURS."],
    (values) => ({
      ...chipNow({ withdrawn: true })(values),
      "zones/rim": clear(),
      "denials/rim/chip": { zone: "rim", term: "chip", light: "fingertip", withdrawn: false },
    }),
    /No chip felt on the rim/,
  ],
  [
    "is withdrawn on a zone that is clear",
    "ceramics",
    CHIP,
    ["A chip", "OURS."],
    (values) => ({ ...chipNow({ withdrawn: true })(values), "zones/rim": clear() }),
    null,
  ],
  [
    "an ear is put to the other side",
    "soft-toy",
    { findings: [{ zone: "ears/proper-left", term: "tear", severity: 2 }] },
    ["A tear", "OURS."],
    chipNow({ zone: "ears/proper-right" }),
    /A tear in the proper right ear\./,
  ],
  [
    "an original dial is replaced",
    "clock",
    { origins: { hands: ["original-probably", ""], dial: ["original-probably", ""] } },
    ["original", "OURS."],
    () => ({ "origins/dial": { origin: "replaced", note: "" } }),
    /The dial is replaced\./,
  ],
  [
    "an original dial is found to be replaced",
    "clock",
    { origins: { hands: ["original-probably", ""], dial: ["original-probably", ""] } },
    ["original", "OURS."],
    found("dial", "replaced-part", 2),
    /The dial is replaced\./,
  ],
  [
    "a trial fails",
    "tinplate-diecast",
    { tests: { "half-turn": ["works", "", ""] } },
    ["The motor", "OURS."],
    () => ({ "tests/half-turn": { result: "no-response", why: "", note: "" } }),
    /The motor did not run/,
  ],
  [
    "what was tried is seized",
    "tinplate-diecast",
    { tests: { "half-turn": ["works", "", ""] } },
    ["The motor", "OURS."],
    found("clockwork", "seized", 3),
    /The clockwork is seized\./,
  ],
  [
    "the word sinks",
    "ceramics",
    CHIP,
    ["Very good", "OURS."],
    found("body", "break", 4),
    /^Poor, because broken\./,
  ],
  [
    "a zone is not examined",
    "ceramics",
    CRACKS,
    ["No crack", "OURS."],
    () => ({ "zones/body": unseen }),
    /No crack seen in the rim under a lamp\./,
  ],
  [
    "what was not seen is seen",
    "ceramics",
    { not_examined: { rim: "no-time", body: "no-time" } },
    ["Not examined", "OURS."],
    () => ({ "zones/rim": clear() }),
    /Not examined: the body;/,
  ],
  [
    "what it was without is there",
    "tinplate-diecast",
    { not_there: ["box", "box-flaps"] },
    ["Without box", "OURS."],
    () => ({ "zones/box": clear(), "zones/box-flaps": clear() }),
    null,
  ],
];

for (const [name, class_id, short, change, turn, says] of TURNS) {
  test(`the desk's words are not printed once ${name}`, () => {
    const { words, answers } = after(class_id, short, change, turn);
    assert.doesNotMatch(words, /OURS/);
    assert.doesNotMatch(answers, /OURS/);
    if (says) assert.match(words, says);
  });
}

/** A trial of which the desk wrote when the record said it in words that it has no longer. */
function afterOldWords(kind, change) {
  const plan = book.plans.furniture;
  const at = (made_at, value) => ({ value, made_at, device_id: made_at, device_seq: 1 });
  const version = {
    ...{ text: "condition", sentence: "tests/rock", speaks_of: ["tests/rock"], version: kind },
    ...{ record_words: "Found steady.", words: kind === "struck" ? "" : "OURS." },
  };
  const record = recordOf(written(plan, {}));
  const { result, made_at } = { result: "works", made_at: "2026-05-02T09:00:00Z", ...change };
  record.fields["tests/rock"] = at(made_at, { result, why: "", note: "" });
  record.fields["sentences/condition/tests/rock"] = at("2026-05-02T10:00:00Z", version);
  return deskTexts(plan, book, record).find(({ name }) => name === "condition").words;
}

test("what the desk made of a trial stands when only our wording of it has changed since", () => {
  assert.match(afterOldWords("rewritten", {}), /OURS\./);
  assert.doesNotMatch(afterOldWords("struck", {}), /stand/);
  const later = { result: "no-response", made_at: "2026-05-02T11:00:00Z" };
  assert.match(afterOldWords("rewritten", later), /not stand/);
  assert.match(afterOldWords("struck", later), /not stand/);
});

test("a measure, a count or a note that changes takes no words from the desk", () => {
  for (const more of [{ extent_mm: 9 }, { extent_count: 2 }, { severity: 3 }, { note: "at the lip" }]) {
    const { words, differs } = after("ceramics", CHIP, ["A chip", "OURS."], chipNow(more));
    assert.match(words, /OURS\./);
    assert.equal(differs, "extent_mm" in more || "extent_count" in more || "note" in more);
  }
});

test("no crack anywhere is not printed beside a crack in another zone, and the difference is shown", () => {
  const anywhere = ["No crack", "No crack or hairline anywhere."];
  const cracked = after("ceramics", CRACKS, anywhere, found("spout", "crack", 3));
  assert.doesNotMatch(cracked.words + cracked.answers, /anywhere/);
  assert.equal(cracked.differs, true);
  assert.match(after("ceramics", CRACKS, anywhere, found("spout", "stain", 1)).words, /anywhere/);
  const elsewhere = ["No crack", "No other crack anywhere."];
  assert.match(
    after("ceramics", CRACKS, elsewhere, found("spout", "crack", 3)).words,
    /No other crack anywhere/,
  );
  const named = ["No crack", "Body and rim are sound."];
  assert.match(
    after("ceramics", CRACKS, named, found("spout", "crack", 3)).words,
    /Body and rim are sound\./,
  );
});

test("in any record a finding that is told, moves or is denied is not printed as the desk wrote of it", () => {
  const below = chance(41);
  for (const plan of Object.values(book.plans).filter((one) => !one.refer_only)) {
    const values = anyRecord(book, plan, below);
    for (const line of textOf(plan, values).lines) {
      const [field] = line.recorded
        .flatMap(({ from }) => from)
        .filter((from) => from.startsWith("findings/"));
      if (!field || !line.sentence.startsWith("findings/")) continue;
      const value = values[field];
      const name = `sentences/condition/${line.sentence}`;
      const rewritten = { ...values, [name]: versionOf("condition", line, "rewritten", "OURS.") };
      assert.match(textOf(plan, rewritten).words, /OURS/);
      const turns = [
        { [field]: { ...value, certainty: "told" } },
        { [field]: { ...value, withdrawn: true }, [`zones/${value.zone}`]: clear() },
        { [field]: { ...value, withdrawn: true }, [`zones/${value.zone}`]: unseen },
      ];
      for (const turn of turns) {
        const now = { ...rewritten, ...turn };
        const printed = textOf(plan, now).words + answersOf(plan, now);
        assert.doesNotMatch(printed, /OURS/, `${plan.class_id}: ${line.words} ${JSON.stringify(turn)}`);
      }
    }
  }
});

test("another date, hand or name than the record had when the desk wrote turns its heading, whichever came since", () => {
  const [BEFORE, WRITTEN, SINCE] = [1, 2, 3].map((hour) => `2026-03-14T0${hour}:00:00Z`);
  const heading = { text: "heading", sentence: "heading", words: "Our jug by Thorn, 1765" };
  const version = { ...heading, record_words: "Jug by Thorn, 1765." };
  const dated = (year) => ({ words: year, earliest: Number(year), latest: Number(year), edtf: year });
  const was = {
    short_description: "jug",
    maker: "Thorn",
    maker_certainty: "by",
    dates: dated("1765"),
    dates_certainty: "dated",
  };
  const turned = (change) => {
    const fields = Object.fromEntries([
      ...Object.entries(was).map(([name, value]) => [name, set(value, BEFORE)]),
      ...Object.entries(change).map(([name, value]) => [name, set(value, SINCE)]),
      ["sentences/heading/heading", { ...set(version, WRITTEN), device_id: "desk" }],
    ]);
    return isWhatTurned({ book, record: { fields, disagreements: [] } }, version);
  };
  assert.equal(turned({}), false);
  for (const change of [
    { dates: dated("1890") },
    { maker: "Plumb" },
    { short_description: "ewer" },
    { maker_certainty: "unknown" },
  ])
    assert.equal(turned(change), true, JSON.stringify(change));
  assert.equal(turned({ dates_certainty: "probably" }), false, "it is of that year still");
  assert.equal(turned({ short_description: "squat jug" }), false, "it is a jug still");
});

test("a finding that was withdrawn turns what was written once it is denied, or its zone is clear or unseen", () => {
  const plan = book.plans.ceramics;
  const turned = (state, denials = {}) => {
    const chip = { "findings/0": finding({ zone: "rim", term: "chip", withdrawn: true }) };
    const record = recordOf({ ...chip, ...denials, "zones/rim": { state, reason: null, light: "lamp" } });
    return isFindingTurned({ plan, book, record }, "A chip to the rim.", "0", false);
  };
  const denied = { "denials/rim/chip": { zone: "rim", term: "chip", light: "lamp", withdrawn: false } };
  assert.deepEqual(
    ["finding", "clear", "not-examined"].map((state) => turned(state)),
    [false, true, true],
  );
  assert.equal(turned("finding", denied), true);
});

test("a statement that stands, as it was or in other words, turns nothing that the desk wrote of it", () => {
  const stated = (words) => ({ words, withdrawn: false });
  const short = { statements: { "out-of-frame": "examined out of the frame" } };
  for (const other of [{}, { "statements/out-of-frame": stated("seen out of its frame") }]) {
    const { words } = after("work-on-paper", short, ["xamined out of the frame", "OURS."], () => other);
    assert.match(words, /OURS\./);
  }
});

test("behind which piece of a set a finding is needs no set in the words, and one of no piece does", () => {
  const plan = book.plans.ceramics;
  const turned = (more) => {
    const chip = finding({ zone: "set-count", term: "chip", ...more });
    const record = recordOf({ "findings/0": chip });
    return isFindingTurned({ plan, book, record }, "A chip to the second cup.", "0", false);
  };
  assert.deepEqual([{ piece: "2" }, { piece_count: 2 }, { piece: "2", piece_count: 1 }, {}].map(turned), [
    false,
    false,
    false,
    true,
  ]);
});

test("of a trial that the plan has no more, or that nobody made, nothing has turned", () => {
  const plan = book.plans.ceramics;
  const version = { text: "condition", sentence: "tests/ring", words: "Ours.", record_words: "Not tapped." };
  const turned = (values, id) => isTrialTurned({ plan, book, record: recordOf(values) }, version, id);
  assert.equal(turned({}, "ring"), false);
  assert.equal(turned({ "tests/gone": { result: "works", why: null, note: "" } }, "gone"), false);
  assert.equal(turned({ "tests/ring": { result: "works", why: null, note: "" } }, "ring"), true);
});

/** The line on a fault as the desk wrote it at ten, of a record in which `later` was set at eleven. */
function afterTen(words, later) {
  const plan = book.plans.ceramics;
  const at = (made_at, value) => ({ value, made_at, device_id: made_at, device_seq: 1 });
  const record = recordOf(written(plan, { findings: [{ zone: "rim", term: "fleabite", severity: 1 }] }));
  for (const [name, { value }] of Object.entries(record.fields))
    record.fields[name] = at("2026-05-02T09:00:00Z", value);
  const version = {
    ...{ text: "condition", sentence: "findings/0", speaks_of: ["findings/0"], version: "rewritten", words },
    record_words: "A fleabite to the rim.",
  };
  record.fields["sentences/condition/findings/0"] = at("2026-05-02T10:00:00Z", version);
  for (const [name, value] of Object.entries(later))
    record.fields[name] = at("2026-05-02T11:00:00Z", finding(value));
  const text = deskTexts(plan, book, record).find(({ name }) => name === "condition");
  return { words: text.words, differs: text.lines.find(({ sentence }) => sentence === "findings/0").differs };
}

test("that a fault was said to be grave since is shown to the desk, though the record has the same words for it", () => {
  const fleabite = { zone: "rim", term: "fleabite" };
  const grave = afterTen("A tiny fritting of the rim.", { "findings/0": { ...fleabite, severity: 4 } });
  assert.match(grave.words, /A tiny fritting of the rim\./);
  assert.equal(grave.differs, true);
  const slight = afterTen("A tiny fritting of the rim.", { "findings/0": { ...fleabite, severity: 2 } });
  assert.equal(slight.differs, false);
});

test("a fault that was written of as the only one is told in the record's words once another was found", () => {
  const crack = { "findings/1": { zone: "body", term: "crack", severity: 3 } };
  assert.match(afterTen("A fleabite, and no other damage.", {}).words, /and no other damage\./);
  const more = afterTen("A fleabite, and no other damage.", crack);
  assert.doesNotMatch(more.words, /no other damage/);
  assert.match(more.words, /A fleabite to the rim\./);
  assert.equal(more.differs, true);
});

test("a desk knew of what stood when it wrote, and of a record without times nobody can say", () => {
  const said = (minute, made_by = "b") => ({
    ...{
      made_at: minute && `2026-03-14T10:0${minute}:00Z`,
      device_id: made_by,
      operation_id: "",
      value: null,
    },
  });
  const knew = (written, set) =>
    isKnownTo(
      { fields: { "sentences/condition/overall": written, ...(set && { "tests/ring": set }) } },
      { text: "condition", sentence: "overall" },
      "tests/ring",
    );
  assert.equal(knew(said(5), said(3, "c")), true);
  assert.equal(knew(said(5), said(7, "c")), false);
  assert.equal(knew(said(""), said("", "c")), false);
  assert.equal(knew(said(5)), true, "nothing of it is on record");
});

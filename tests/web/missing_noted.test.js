/**
 * What a note beside what is missing speaks of: so many whole things, one of several by its name, a part of them, or
 * where and how it is missing, which names nothing.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isGone } from "../../web/job/gone.ts";
import { one, paragraph } from "./as_text.js";
import { record } from "./made.js";
import { book } from "./plan_book.js";

/** The one sentence of a paragraph that says what is missing, without its full stop. */
function missing(class_id, zone, note, more = {}) {
  const said = paragraph(class_id, one(zone, "missing-part", { note, ...more }));
  const [found, ...others] = said.split(/(?<=\.) /).filter((sentence) => sentence.includes("missing"));
  assert.deepEqual(others, [], said);
  return found.replace(/\.$/, "");
}

const HANDLES = "One or more handles are missing";
const A_PART = "A part missing from the";
for (const [says, class_id, zone, rows] of [
  [
    "a note that says where, how or of which kind names no part of them",
    "furniture",
    "handles",
    [
      ["", HANDLES],
      ...["back left", "left drawer", "second from the top", "two short", "the brass", "the missing"].map(
        (note) => [note, `${HANDLES} (${note})`],
      ),
      ...["cut out", "lost at work", "lost long ago", "not known", "lapping", "x"].map((note) => [
        note,
        `${HANDLES} (${note})`,
      ]),
      ...["a pair", "a few", "several"].map((note) => [note, `${HANDLES} (${note})`]),
      ["both", "The handles are missing (both)"],
      ["all", "The handles are missing (all)"],
      ["one handle", "One handle is missing"],
    ],
  ],
  [
    "a thing by its article, its number or as one that is known is a part of them, by more words behind an article",
    "furniture",
    "handles",
    [
      ...["the rose", "a lining", "the bail", "rose", "moulding", "the pierced brass rose"].map((note) => [
        note,
        `${A_PART} handles (${note})`,
      ]),
      ...[
        "the rose, upper left",
        "rose of the upper drawer",
        "a few old brass roses",
        "part of one",
        "the bit of it",
      ].map((note) => [note, `${A_PART} handles (${note})`]),
      ["bail", `${HANDLES} (bail)`],
      ["the very old pierced rose", `${A_PART} handles (the very old pierced rose)`],
      ["the one of the two that was there before", `${HANDLES} (the one of the two that was there before)`],
      ["three roses", "Parts missing from the handles (three roses)"],
      ["two teeth", "Parts missing from the handles (two teeth)"],
    ],
  ],
  [
    "one of several by its name is that one",
    "clock",
    "keys",
    [
      ["case key", "The case key is missing"],
      ["the case key", "The case key is missing"],
      ["the A key", "The A key is missing"],
      ["the old brass case key", "The old brass case key is missing"],
      [
        "the case key the owner keeps at home",
        "One or more keys are missing (the case key the owner keeps at home)",
      ],
      ["two keys", "Two keys are missing"],
      ...["case key, lost", "the key is lost", "no case key"].map((note) => [
        note,
        `One or more keys are missing (${note})`,
      ]),
      ["key to the case", "One or more keys are missing (key to the case)"],
      ["the bow", `${A_PART} keys (the bow)`],
    ],
  ],
  [
    "things of another zone are those, where it is not they that bear what is missing",
    "tinplate-diecast",
    "wheels",
    [
      ...["two tyres", "both tyres", "the rear tyres"].map((note) => [
        note,
        `${note[0].toUpperCase()}${note.slice(1)} are missing`,
      ]),
      ["tyre", "A tyre is missing"],
      ["one tyre", "One tyre is missing"],
      ["tyres", "One or more tyres are missing"],
      ["left", "One or more wheels are missing (left)"],
      ["left tyre is gone", "One or more wheels are missing (left tyre is gone)"],
    ],
  ],
  [
    "feet that are missing of two legs are feet",
    "furniture",
    "feet",
    [["two legs", "One or more feet are missing (two legs)"]],
  ],
  [
    "each of the kinds that a plan has for a zone is one of them, with its article and without",
    "tinplate-diecast",
    "figures",
    [
      ...["driver", "the driver", "rider", "the rider", "passenger"].map((note) => [
        note,
        `The ${note.replace("the ", "")} is missing`,
      ]),
      ["a rider", "A rider is missing"],
      ["two riders", "Two riders are missing"],
      ["driver and rider", "The driver and rider are missing"],
      ["the arm", `${A_PART} figures (the arm)`],
    ],
  ],
  [
    "so is a hand of a watch, and its tip a part",
    "watch",
    "hands",
    [
      ["seconds hand", "The seconds hand is missing"],
      ["the tip", `${A_PART} hands (the tip)`],
    ],
  ],
  [
    "of one thing another that is known is missing, and by where or how it is the thing itself",
    "camera-scientific",
    "case",
    [
      ...["the strap", "strap", "the long leather strap", "leather shoulder strap"].map((note) => [
        note,
        `${A_PART} case (${note})`,
      ]),
      ["two straps", "Parts missing from the case (two straps)"],
      ["front", "The case is missing (front)"],
      ["lost at work", "The case is missing (lost at work)"],
    ],
  ],
  [
    "what its plan looks for beside the thing is a part of it",
    "clock",
    "pendulum",
    [
      ["bob", `${A_PART} pendulum (bob)`],
      ["the bob of it", `${A_PART} pendulum (the bob of it)`],
      ["a wire", `${A_PART} pendulum (a wire)`],
      ["four wires", "Parts missing from the pendulum (four wires)"],
      ["0 bobs", "The pendulum is missing (0 bobs)"],
      ["the A", "The pendulum is missing (the A)"],
      ["the rod is bent", "The pendulum is missing (the rod is bent)"],
    ],
  ],
])
  test(says, () => {
    const said = rows.map(([note]) => [note, missing(class_id, zone, note)]);
    assert.deepEqual(said, rows);
  });

test("of a thing of which a part alone is missing the rest is told, and nothing of what is not there", () => {
  const denial = /No crack seen in the pendulum/;
  const said = (note, more = {}) =>
    paragraph("clock", {
      ...one("pendulum", "missing-part", { note, ...more }),
      denials: [["pendulum", "crack", "lamp"]],
    });
  for (const note of ["the bob", "bob", "a bob", "suspension spring"]) assert.match(said(note), denial);
  for (const note of ["", "both", "each bob", "lost at work", "a bob, all of it"])
    assert.doesNotMatch(said(note), denial, note);
});

test("one of a pair that is counted as one is all of it, one of several is not, and so many are parts of one", () => {
  const isToldOf = (class_id, zone, term, more) =>
    / seen (?:in|on) the /.test(
      paragraph(class_id, { ...one(zone, "missing-part", more), denials: [[zone, term, "lamp"]] }),
    );
  const eye = (more) => isToldOf("doll", "eyes/proper-left", "crack", more);
  assert.deepEqual([{}, { extent_count: 1 }, { extent_count: 2 }, { note: "the lashes" }].map(eye), [
    false,
    false,
    true,
    true,
  ]);
  assert.equal(eye({ extent_count: 1, note: "the lashes" }), true, "one of its parts");
  const keys = (more) => isToldOf("clock", "keys", "corrosion", more);
  assert.deepEqual([{}, { extent_count: 1 }, { extent_count: 2 }].map(keys), [false, true, true]);
});

test("of several pieces it is gone once it is missing of each, or of nobody noted which", () => {
  const without = (...pieces) =>
    /No chip seen (?:in|on) the stoppers?/.test(
      paragraph("glass", {
        facts: { short_description: "two decanters", pieces: 2 },
        findings: pieces.map((piece) => ({ zone: "stopper", term: "missing-part", severity: 3, piece })),
        denials: [["stopper", "chip", "lamp"]],
      }),
    );
  assert.deepEqual(
    [[], ["1"], ["1", "1"], ["1", "2"]].map((pieces) => without(...pieces)),
    [true, true, true, false],
  );
});

test("what a thing never had is gone, and what its plan does not name is no zone of it", () => {
  const item = record("item", "i", { "zones/pendulum": { state: "not-examined", reason: "not-applicable" } });
  const of = { plan: book.plans.clock, book, record: item };
  assert.deepEqual([isGone(of, "pendulum"), isGone(of, "keys"), isGone(of, "spout")], [true, false, false]);
});

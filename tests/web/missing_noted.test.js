/**
 * What a note beside what is missing speaks of: so many whole things, one of several by its name, a part of them, or
 * where and how it is missing, which names nothing.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { one, paragraph } from "./as_text.js";

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
      ["both", "The handles are missing (both)"],
      ["one handle", "One handle is missing"],
    ],
  ],
  [
    "a thing by its article, its number or as one that is known is a part of them, in up to three words",
    "furniture",
    "handles",
    [
      ...["the rose", "a lining", "the bail", "rose", "moulding", "the pierced brass rose"].map((note) => [
        note,
        `${A_PART} handles (${note})`,
      ]),
      ...["the rose, upper left", "rose of the upper drawer", "part of one", "the bit of it"].map((note) => [
        note,
        `${A_PART} handles (${note})`,
      ]),
      ["bail", `${HANDLES} (bail)`],
      ["the very old pierced rose", `${HANDLES} (the very old pierced rose)`],
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
      ["two keys", "Two keys are missing"],
      ["key to the case", "One or more keys are missing (key to the case)"],
      ["the bow", `${A_PART} keys (the bow)`],
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
    ],
  ],
])
  test(says, () => {
    const said = rows.map(([note]) => [note, missing(class_id, zone, note)]);
    assert.deepEqual(said, rows);
  });

/** Words that somebody typed, as they stand in a sentence: no stop, capital, rung or quotation mark stands twice. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lot } from "./as_text.js";

const mark = (more) => ({
  ...{ place: "Underside.", technique: "printed", colour: "Blue.", completeness: "complete", text: "A" },
  ...{ reading: "", withdrawn: false, ...more },
});

test("a mark is one sentence, however its place and words were typed", () => {
  assert.match(
    lot("ceramics", { "marks/0": mark() }),
    /It has a mark on the underside, printed in blue: “A”\./,
  );
  for (const text of ["“A”", '"A"', " A "])
    assert.match(lot("ceramics", { "marks/0": mark({ text }) }), /in blue: “A”\./);
  assert.match(lot("ceramics", { "marks/0": mark({ text: "“A” over “B”" }) }), /: “‘A’ over ‘B’”\./);
});

test("two marks alike are said once, as two", () => {
  const two = { "marks/0": mark(), "marks/1": mark() };
  assert.equal(lot("ceramics", two), "A thing. It has a mark on the underside, printed in blue, twice: “A”.");
  assert.match(lot("ceramics", { ...two, "marks/2": mark() }), /in blue, three times: “A”\./);
  const unlike = { ...two, "marks/1": mark({ text: "B" }) };
  assert.match(
    lot("ceramics", unlike),
    /in blue: “A”\. It has a mark on the underside, printed in blue: “B”\./,
  );
});

test("a maker has one rung, and nobody is no maker", () => {
  const by = (maker, maker_certainty) => lot("ceramics", { maker, maker_certainty });
  assert.equal(by("by Thornapple", "by"), "A thing, by Thornapple.");
  assert.equal(by("By Thornapple", "after"), "A thing, after Thornapple.");
  assert.equal(by("attributed to Thornapple", "by"), "A thing, attributed to Thornapple.");
  assert.equal(by("The Larkspindle Works", "by"), "A thing, by the Larkspindle Works.");
  assert.equal(by("Unknown", "by"), "A thing.");
  assert.equal(by("Byfield", "by"), "A thing, by Byfield.");
});

test("lines that end as sentences do are sentences, others run on", () => {
  assert.match(
    lot("ceramics", { seen_words: "painted border.\ngilt rim" }),
    /\. Painted border\. Gilt rim\.$/,
  );
  assert.match(
    lot("ceramics", { seen_words: "painted border,\ngilt rim" }),
    /\. Painted border, gilt rim\.$/,
  );
});

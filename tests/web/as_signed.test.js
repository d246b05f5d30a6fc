/** What a cataloguer would sign: sentences that said what is so, and said it like a form, one by one. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const called = (short_description, more = {}) => ({ ...more, facts: { short_description } });

test("a part bears the name that the trade has for it", () => {
  assert.match(answer("clock", "Does it run", {}), / the striking work, the bell or gong and/);
  assert.match(answer("stringed-instrument", "Has it cracks", {}), / the table, the back, the ribs, /);
  const unseen = { denials: ["bass", "treble"].map((side) => [`ribs/${side}`, "crack", "lamp"]) };
  assert.match(paragraph("stringed-instrument", unseen), /No crack seen in the ribs under a lamp\./);
  const cracked = one("ribs/bass", "crack", { extent_mm: 20 });
  assert.match(paragraph("stringed-instrument", cracked), /A crack of 20 mm in the bass rib\./);
  assert.match(answer("stringed-instrument", "Bow:", {}), / the bow stick and the frog, /);
  const worn = one("engraving", "soft-detail", { severity: 1 });
  assert.match(paragraph("jewellery", worn), /The engraving is slightly worn soft\./);
  const stained = one("stress", "stain", { extent_count: 2 });
  assert.match(paragraph("textile-rug", stained), /Two stains on the stress points\./);
});

test("what was seen for certain has no hedge", () => {
  const wiring = one("motor-electric", "unsafe-wiring", { severity: 3 });
  assert.match(paragraph("tinplate-diecast", wiring), /Unsafe wiring in the electric motor\./);
  assert.match(
    paragraph("tinplate-diecast", { findings: [{ ...wiring.findings[0], certainty: "possible" }] }),
    /Possibly unsafe wiring in the electric motor\./,
  );
});

test("a bow without a violin is told to be one, and what hangs on a watch is named as far as it is known", () => {
  const not_there = ["scroll", "neck", "neck-joint", "bridge", "sound-post", "pegs", "fingerboard", "tailpiece"];
  for (const question of ["Are scroll", "How long"])
    assert.match(answer("stringed-instrument", question, called("bow", { not_there })), /^There is no instrument with it\./);
  const papers = (name) => answer("watch", "Are box", called(name));
  assert.match(papers("pocket watch"), /There is a chain, fob or key with it; which of them was not noted\./);
  assert.match(papers("pocket watch with albert chain"), /There is a chain, fob or key with it\. /);
});

test("a zone that was looked at has a result, also where a trial of it failed or a caution stands on it", () => {
  const going = { tests: { "set-hands": ["works-in-part", "", ""] } };
  assert.match(
    answer("watch", "Are hands", going),
    /Nothing else noted on the hands, examined under a lamp\. Nothing further to report on the case, the crown/,
  );
  const opened = { tests: { ...going.tests, "open-back": ["works-in-part", "", ""] } };
  const scratched = { ...opened, ...one("movement", "scratch", { severity: 1 }) };
  assert.match(
    answer("watch", "Is it running", scratched),
    /Nothing else of the kind noted on the movement, examined under a lamp\./,
  );
  for (const [class_id, begins] of [["watch", "Are hands"], ["watch", "Is it running"]])
    assert.doesNotMatch(answer(class_id, begins, scratched), /were examined|was examined/);
});

test("of a look that showed nothing it is said what was looked for", () => {
  const looks = Object.entries(book.plans).flatMap(([class_id, { tests }]) =>
    tests.filter(({ looks }) => looks).map(({ test: name, said }) => [class_id, name, said]),
  );
  assert.ok(looks.length > 10);
  for (const [class_id, name, said] of looks) {
    assert.match(said, / for /, `${class_id} ${name}`);
    const text = paragraph(class_id, { tests: { [name]: ["works", "", ""] } });
    assert.ok(text.toLowerCase().includes(`${said}, with nothing to report.`), text);
  }
  const both = { tests: { ultraviolet: ["works", "", ""], "light-behind": ["works", "", ""] } };
  assert.match(
    paragraph("painting", { ...both, ...one("frame", "chip") }),
    /Looked at under ultraviolet for retouching, with nothing further to report\. Looked at against the light for/,
  );
});

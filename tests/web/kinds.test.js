/** The table of kinds: how much text a member takes, and texts that are cut to fit. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { KINDS } from "../../web/job/kinds.ts";
import { beginning, longestText, mayMake } from "../../web/job/kinds_read.ts";

test("a member takes what the office's model says", () => {
  assert.equal(longestText("record_finding.note"), 8000);
  assert.equal(longestText("open_visit.ticket"), 20);
});

test("no line that a control takes by default is too long for the member it goes into", () => {
  const LINE = 400;
  const typedElsewhere = new Set([
    "zone",
    "zones",
    "tag",
    "first_tag",
    "last_tag",
    "number",
    "replaced_by",
    "for_device_id",
    "second_device",
    "measure",
    "field",
    "edtf",
    "ticket",
    "order",
    "sentence",
    "speaks_of",
    "table_id",
    "person.person_id",
    "person.roles", // chosen, never typed
    "second_device", // an id of a device
    "person.person_id", // as is this of a person
  ]);
  for (const [kind, says] of Object.entries(KINDS)) {
    for (const [name, most] of Object.entries(says.longest ?? {})) {
      assert.ok(most >= LINE || typedElsewhere.has(name), `${kind}.${name} takes ${most}`);
    }
  }
});

test("a text that is cut to fit has no half of a character", () => {
  assert.equal(beginning("abc", 5), "abc");
  assert.equal(beginning("ab\u{1F418}", 3), "ab");
  assert.equal(beginning("ab\u{1F418}", 4), "ab\u{1F418}");
  assert.ok(beginning("\u{1F418}".repeat(300), 399).isWellFormed());
});

test("a manager makes operations of every kind, and anybody else those of their own part", () => {
  for (const [kind, { roles }] of Object.entries(KINDS)) {
    assert.ok(mayMake("manager", kind), kind);
    for (const role of ["door", "table", "porter", "desk"])
      assert.equal(mayMake(role, kind), roles.includes(role), `${role} ${kind}`);
  }
});

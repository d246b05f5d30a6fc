/** Words that stay for good and name a private owner are known as such before they are kept. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { privateNamed } from "../../web/job/private_named.ts";

function visit(ticket, name, isPrivate) {
  const said = (value) => ({ value, operation_id: "o", made_at: "", made_by: "a" });
  return {
    kind: "visit",
    record_id: ticket,
    day_id: "d",
    fields: {
      ticket: said(ticket),
      "consignor/name": said(name),
      ...(isPrivate ? { private: said("yes") } : {}),
    },
    disagreements: [],
  };
}

const VISITS = [visit("Q01", "Honória de Peverell", true), visit("Q02", "Zelda Quill", false)];

test("all of a private owner's name, or a part of it, is known in any case and with or without accents", () => {
  for (const text of ["Honória de Peverell is told by letter", "PEVERELL has it", "told honoria"])
    assert.deepEqual(privateNamed(text, VISITS), ["Q01"], text);
});

test("neither the name of who is not private nor a particle or a longer word is one", () => {
  for (const text of ["Zelda Quill is told", "two de luxe boxes", "the Peverells' street", ""])
    assert.deepEqual(privateNamed(text, VISITS), [], text);
});

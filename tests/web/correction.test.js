/** What can be put in the place of what the office refused, and what its key says. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { againWords, correctable, corrected } from "../../web/screens/sync/correction.ts";

test("what is not changed is sent again, and what is changed is sent corrected", () => {
  const named = correctable({ kind: "set_item", item_id: "i", field: "short_description", value: "bowl" });
  assert.equal(againWords(named, "bowl"), "Send it again");
  assert.equal(againWords(named, "green bowl"), "Send it corrected");
  const tied = correctable({ kind: "tie_tag", item_id: "i", tag: "00002Y", piece: 1 });
  assert.equal(againWords(tied, "00002Y"), "Send it again");
  assert.equal(
    againWords(correctable({ kind: "examine_rest", item_id: "i", zones: [] }), ""),
    "Send it again",
  );
});

test("a receipt that names nobody asks for the name, and one that names somebody is as it was signed", () => {
  const asked = correctable({ kind: "sign_receipt", signed_by: " " });
  assert.equal(asked.label, "Name of who signs");
  assert.equal(againWords(asked, "Petronella Vance"), "Send it corrected");
  assert.deepEqual(corrected(asked, "Petronella Vance"), { signed_by: "Petronella Vance" });
  assert.equal(correctable({ kind: "sign_receipt", signed_by: "Petronella Vance" }), null);
});

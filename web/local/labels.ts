/** Labels kept on this device, so that they can be printed with no network: the office's own PDF of a roll. */
import { write } from "./changes.ts";
import { settingIn, transact } from "./database.ts";

export function keepLabels(roll_id: string, pdf: ArrayBuffer) {
  return write(["setting"], (tx) => tx.remember(`labels ${roll_id}`, pdf));
}

export function labelsOf(roll_id: string): Promise<ArrayBuffer | undefined> {
  return transact(["setting"], "readonly", (tx) => settingIn(tx, `labels ${roll_id}`));
}

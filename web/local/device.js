/** Who this device is to the office, and who holds it. */
import { remember, setting, transact } from "./database.js";
import { tell } from "./news.js";

/**
 * @typedef {{device_id: string, role: string, name: string, person_id: string, day_id: string, table_id: string,
 *   epoch: string, cursor: number, clock_offset_ms: number, revoked?: boolean}} ThisDevice
 */

/** @returns {Promise<ThisDevice|null>} */
export async function thisDevice() {
  return (await setting("device")) ?? null;
}

/** @param {Partial<ThisDevice>} patch */
export async function rememberDevice(patch) {
  await transact(["setting"], "readwrite", async (tx) => {
    const store = tx.objectStore("setting");
    const before = (await store.get("device")) ?? { person_id: "", day_id: "", table_id: "", epoch: "", cursor: 0, clock_offset_ms: 0 };
    await store.put({ ...before, ...patch }, "device");
  });
  tell();
}

export { remember, setting };

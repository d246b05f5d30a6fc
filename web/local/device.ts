/** Who this device is to the office, and who holds it. */
import { setting, settingIn, transact } from "./database.ts";
import { tell } from "./news.ts";

export type Role = "door" | "table" | "porter" | "desk" | "manager";

export type ThisDevice = {
  device_id: string;
  role: Role;
  name: string;
  person_id: string;
  day_id: string;
  table_id: string;
  epoch: string;
  cursor: number;
  clock_offset_ms: number;
  revoked?: boolean;
};

export async function thisDevice(): Promise<ThisDevice | null> {
  return (await setting("device")) ?? null;
}

export async function rememberDevice(patch: Partial<ThisDevice>) {
  await transact(["setting"], "readwrite", async (tx) => {
    const before = (await settingIn(tx, "device")) ?? {
      device_id: "",
      role: "table" as const,
      name: "",
      person_id: "",
      day_id: "",
      table_id: "",
      epoch: "",
      cursor: 0,
      clock_offset_ms: 0,
    };
    await tx.objectStore("setting").put({ ...before, ...patch }, "device");
  });
  tell();
}

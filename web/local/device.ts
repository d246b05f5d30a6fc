/** Who this device is to the office, and who holds it. */
import { write } from "./changes.ts";

export type Role = "door" | "table" | "porter" | "desk" | "manager";

export type ThisDevice = {
  device_id: string;
  role: Role;
  name: string;
  /** What its own tickets and receipts begin with; a device that was paired before these were given out has none. */
  letters?: string | null;
  /** When it was paired last, by the office's clock; not known of one that an earlier version paired. */
  paired_at?: string;
  person_id: string;
  /** Their name, at a desk: it may hold no day whose list has it. */
  person_name?: string;
  day_id: string;
  table_id: string;
  /** Its last operation before it took this seat. */
  sat_down_after?: number;
  epoch: string;
  cursor: number;
  clock_offset_ms: number;
  revoked?: boolean;
  /** When the office answered, at most an hour before it did so last: by this device's clock, put right. */
  answered_at?: number;
  /** What work it was when the feed was read last: role, day, table, days awaited. */
  scope?: string;
  /** Days beside its own of which something is on its way still: a porter's device holds them too. */
  awaits?: readonly string[];
  /** Its own day, where the office called it over and some of it stays here, being owed: the rest of it left. */
  day_left?: string;
};

/** What the office tells a device of itself, as it is paired and with the feed. */
export type Paired = Pick<ThisDevice, "device_id" | "role" | "name" | "letters" | "paired_at">;

const UNPAIRED: ThisDevice = {
  device_id: "",
  role: "table",
  name: "",
  person_id: "",
  day_id: "",
  table_id: "",
  epoch: "",
  cursor: 0,
  clock_offset_ms: 0,
};

/** The day of which this device holds the records; a desk holds none, whatever it did before. */
export function dayOfWork({ role, day_id }: ThisDevice): string {
  return role === "desk" ? "" : day_id;
}

/** The days beside its own that this device holds; only a porter takes in what is on its way. */
export function daysAwaited({ role, awaits = [] }: ThisDevice): readonly string[] {
  return role === "porter" ? awaits : [];
}

/** Whether this device asks the office for whatever it does not hold. */
export function asksTheOffice({ role }: ThisDevice) {
  return role === "desk" || role === "manager";
}

export function rememberDevice(patch: Partial<ThisDevice>) {
  return write(["setting"], async (tx) => {
    const before = { ...UNPAIRED, ...(await tx.setting("device")) };
    const isMoved = patch.table_id !== undefined && patch.table_id !== before.table_id;
    const seat = isMoved ? { sat_down_after: (await tx.setting("device_seq")) ?? 0 } : {};
    await tx.remember("device", { ...before, ...seat, ...patch });
  });
}

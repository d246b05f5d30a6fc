/** What two people sign as they close a day, and what their parts of the screen are given. */

import { useEffect, useState } from "preact/hooks";
import type { Found } from "../../job/closing_found.ts";
import { idBehind, type Reasons, type SignedFirst } from "../../job/closing_reasons.ts";
import type { Person } from "../../job/operations.ts";
import type { DayRecord } from "../../job/types.ts";
import type { Refused } from "../../local/database.ts";
import type { ThisDevice } from "../../local/device.ts";
import { sha256Of } from "../../local/photos.ts";
import type { Held } from "../../parts/use_held.ts";

/** The second person, and their code with the digest of the list for which it was typed: it is none for another. */
export type SecondSigns = { second: string; code: { text: string; of: string } };
export const NOT_CLOSING: SecondSigns = { second: "", code: { text: "", of: "" } };

export type CloseOf = {
  day: DayRecord;
  device: ThisDevice;
  found: readonly Found[];
  reasons: Reasons;
  /** Those of the found of which nobody has said anything; `lead` goes to the first of them. */
  unsaid: readonly Found[];
  lead: () => void;
  /** Whose list the second reads: the earliest that stands; and this device's person's own, if they signed as well. */
  first: SignedFirst | null;
  closing: Held<SecondSigns>;
  /** Another than who signed first, whoever is at the device. */
  second: Person | null | undefined;
  /** Whether the second is whoever is at this device, and the first signed at another: no code is asked for. */
  isAtOwn: boolean;
  turnedBack: Refused | undefined;
};

export const CLOSE = "close-it";

/** To where it is signed; what was said stands above it, or on a wide screen beside it. */
export function goToClose() {
  const close = document.getElementById(CLOSE);
  close?.scrollIntoView({ block: "nearest" });
  close?.querySelector<HTMLElement>("select, button.main")?.focus({ preventScroll: true });
}

/** Makes ids for what is said of a day now, which overrule what is on record. */
export const idsBehind = (day: DayRecord) => () =>
  idBehind(day, Date.now(), crypto.getRandomValues(new Uint8Array(10)));

export function digestOf(text: string) {
  return sha256Of(new TextEncoder().encode(text).buffer);
}

/** The digest of a list as it stands; "" while it is made. */
export function useDigest(text: string) {
  const [made, setMade] = useState({ text: "", digest: "" });
  useEffect(() => {
    digestOf(text).then((digest) => setMade({ text, digest }));
  }, [text]);
  return made.text === text ? made.digest : "";
}

/**
 * What only some devices keep of the app: the reader of codes where the browser has none of its own, and the screens of
 * managers and of the desk. A phone of a table fetches an eighth less for it on its first visit.
 */

import type { Role } from "../local/device.ts";
import { device } from "../local/memory.ts";
import { readsByItself } from "./scanner.tsx";

/** As the build names them. */
type Pack = "scanner" | "office";

/** Whether somebody of this role has the screens of the office. */
export function hasOfficeScreens(role: Role | undefined) {
  return role === "manager" || role === "desk";
}

async function packsNeeded(): Promise<Pack[]> {
  const scanner: Pack[] = (await readsByItself()) ? [] : ["scanner"];
  return hasOfficeScreens(device.peek()?.role) ? [...scanner, "office"] : scanner;
}

/** Have the worker keep what this device needs; if the line drops, the next start asks again. */
export async function askForPacks(registration: ServiceWorkerRegistration) {
  const packs = await packsNeeded();
  await navigator.serviceWorker.ready;
  for (const pack of packs) registration.active?.postMessage({ pack });
}

/** Whether all of them are kept: the worker notes each when the whole of it is there. */
export async function hasItsPacks(): Promise<boolean> {
  const here = await Promise.all((await packsNeeded()).map((pack) => caches.match(`/packs/${pack}`)));
  return here.every(Boolean);
}

/**
 * What only some devices keep of the app: the reader of codes where the browser has none of its own, the screens of
 * those who carry things away and close the day, those of managers and of the desk, and the sentences made of a record
 * with what is signed and the cards to print, which come as soon as a device is paired. A phone of a table fetches a
 * third less for it on its first visit.
 */

import type { Role } from "../local/device.ts";
import { device } from "../local/memory.ts";
import { readsByItself } from "./scanner.tsx";

/** As the build names them. */
export type ScreenPack = "custody" | "office" | "words";
type Pack = "scanner" | ScreenPack;

/** Whatever the places of the frame show to a role is kept by it before the network goes. */
const PACKS_OF: Record<Role, readonly ScreenPack[]> = {
  door: ["words"],
  table: ["words"],
  porter: ["custody", "words"],
  manager: ["custody", "office", "words"],
  desk: ["office", "words"],
};

/** The screens that somebody of this role has beside those of every device; none before the device is paired. */
export function screenPacksOf(role: Role | undefined): readonly ScreenPack[] {
  return role ? PACKS_OF[role] : [];
}

/** Whether this device keeps a pack's screens, so that a link to one of them leads somewhere with no network too. */
export function keepsPack(pack: ScreenPack) {
  return screenPacksOf(device.value?.role).includes(pack);
}

async function packsNeeded(): Promise<Pack[]> {
  const scanner: Pack[] = (await readsByItself()) ? [] : ["scanner"];
  return [...scanner, ...screenPacksOf(device.peek()?.role)];
}

/** Have the worker keep what this device needs, and the next version's that waits for its turn. */
export async function askForPacks(registration: ServiceWorkerRegistration) {
  const packs = await packsNeeded();
  await navigator.serviceWorker.ready;
  for (const worker of [registration.active, registration.waiting])
    for (const pack of packs) worker?.postMessage({ pack });
}

/** Whether the worker keeps the reader of codes, for a browser that has none of its own. */
export async function keepsReader(): Promise<boolean> {
  return Boolean(await caches.match("/packs/scanner"));
}

/** Whether all of them are kept: the worker notes each when the whole of it is there. */
export async function hasItsPacks(): Promise<boolean> {
  const here = await Promise.all((await packsNeeded()).map((pack) => caches.match(`/packs/${pack}`)));
  return here.every(Boolean);
}

/** Which screen an address means. A screen's code is fetched when it is first shown, so that the first stands the sooner. */
import type { FunctionComponent } from "preact";
import type { Role } from "./local/device.ts";

/** What a screen may be told by its address: ids that are not in it are empty. */
export type About = {
  item_id: string;
  visit_id: string;
  container_id: string;
  zone_key: string;
  tag: string;
  code: string;
  role: Role;
};
type ScreenModule = { default: FunctionComponent<About> };

const itemScreens = () => import("./screens/examination/item_screens.ts");

/** One of the screens of an item. */
async function ofItem(name: keyof Awaited<ReturnType<typeof itemScreens>>): Promise<ScreenModule> {
  return { default: (await itemScreens())[name] };
}

export const SCREENS = {
  check: () => import("./screens/office/check.tsx"),
  cards: () => import("./screens/examination/stop_cards.tsx"),
  closing: () => import("./screens/custody/closing.tsx"),
  container: () => import("./screens/custody/container.tsx"),
  copies: () => import("./screens/office/copies.tsx"),
  day: () => import("./screens/office/day.tsx"),
  devices: () => import("./screens/office/devices.tsx"),
  item: () => ofItem("Item"),
  "item/marks": () => ofItem("Marks"),
  "item/measures": () => ofItem("Measures"),
  "item/photos": () => ofItem("Photos"),
  "item/stop": () => ofItem("Stop"),
  "item/tag": () => import("./screens/tagging/tag.tsx"),
  "item/words": () => ofItem("Words"),
  "item/works": () => ofItem("Works"),
  "item/zone": () => ofItem("Zone"),
  "item/zones": () => ofItem("Zones"),
  outbox: () => import("./screens/sync/outbox.tsx"),
  pair: () => import("./screens/pairing/pair.tsx"),
  preflight: () => import("./screens/office/preflight.tsx"),
  porter: () => import("./screens/custody/porter.tsx"),
  queue: () => import("./screens/cataloguing/queue.tsx"),
  rolls: () => import("./screens/tagging/rolls.tsx"),
  stop: () => import("./screens/examination/stop_here.tsx"),
  tag: () => import("./screens/tagging/find.tsx"),
  today: () => import("./screens/arrival/today.tsx"),
  visit: () => import("./screens/arrival/visit.tsx"),
  "visit/receipt": () => import("./screens/custody/receipt.tsx"),
} satisfies Record<string, () => Promise<ScreenModule>>;

export type ScreenName = keyof typeof SCREENS;
/** The same with the one type that all of them share. */
const FETCH: Record<ScreenName, () => Promise<ScreenModule>> = SCREENS;

/** Screens whose code is here. */
const fetched = new Map<ScreenName, FunctionComponent<About>>();

export function screenHere(name: ScreenName) {
  return fetched.get(name);
}

/** Fetch a screen's code, unless it is here. */
export async function fetchScreen(name: ScreenName) {
  if (!fetched.has(name)) fetched.set(name, (await FETCH[name]()).default);
}

export const EVERY_SCREEN = Object.keys(SCREENS) as ScreenName[];

export function isScreen(name: string): name is ScreenName {
  return Object.hasOwn(SCREENS, name);
}

/** The parts of an address such as `#/item/<id>/zone/<key>`; null if it cannot be read. */
function partsOf(hash: string): string[] | null {
  try {
    return hash.replace(/^#\//, "").split("/").map(decodeURIComponent);
  } catch {
    return null; // a stray per cent sign
  }
}

/** Where somebody of this role begins. */
function startOf(role: Role): ScreenName {
  return role === "desk" ? "queue" : "today";
}

export type Shown = { name: ScreenName; about: About; isKnown: boolean };

/**
 * The screen for an address, and what it is about. `isKnown` is false for an address that names none: then the role's
 * first screen is shown, and the address is none to come back to. Without a role the device is not paired; it can be
 * checked all the same.
 */
export function screenFor(hash: string, role: Role | null): Shown {
  const [head = "", id = "", part = "", key = ""] = partsOf(hash) ?? [];
  const about = { item_id: id, visit_id: id, container_id: id, tag: id, zone_key: key, code: "" };
  if (head === "check") return { name: "check", about: { ...about, role: role ?? "table" }, isKnown: false };
  if (!role || head === "pair") {
    return {
      name: "pair",
      about: { ...about, code: head === "pair" ? id : "", role: role ?? "table" },
      isKnown: false,
    };
  }
  if (head === "entry") return { name: "queue", about: { ...about, role }, isKnown: true };
  const name = [`${head}/${part}`, head].find(isScreen);
  return { name: name ?? startOf(role), about: { ...about, role }, isKnown: name !== undefined };
}

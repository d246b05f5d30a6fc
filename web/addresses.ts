/**
 * Which screen an address means. A screen's code is fetched when it is first shown, so that the first stands the
 * sooner.
 */
import type { FunctionComponent } from "preact";
import type { Role } from "./local/device.ts";
import type { ScreenPack } from "./parts/packs.ts";

/** What a screen may be told by its address: ids that are not in it are empty. */
export type About = {
  item_id: string;
  visit_id: string;
  container_id: string;
  load_id: string;
  day_id: string;
  zone_key: string;
  tag: string;
  code: string;
  role: Role;
};

/** The screens that every device keeps, and those of each pack; what stands together comes as one piece. */
const PIECES = {
  hall: [
    "item",
    "item/photos",
    "item/stop",
    "item/tag",
    "item/zone",
    "item/zones",
    "outbox",
    "stop",
    "tag",
    "today",
    "visit",
  ],
  custody: ["closing", "container", "item/check-in", "load", "places"],
  office: ["closings", "copies", "day", "devices", "preflight", "queue", "rolls"],
  words: [
    "cards",
    "check",
    "item/marks",
    "item/measures",
    "item/words",
    "item/works",
    "porter",
    "visit/receipt",
  ],
} as const satisfies Record<"hall" | ScreenPack, readonly string[]>;
type Piece = keyof typeof PIECES;
type Screen = FunctionComponent<About>;
/** What the module of a piece says: the screen of each of its names. */
export type ScreensOf<Of extends Piece> = Record<(typeof PIECES)[Of][number], Screen>;
/** The first screen of all comes with the app. */
export type ScreenName = (typeof PIECES)[Piece][number] | "pair";

const FETCH: { [Of in Piece]: () => Promise<{ SCREENS: ScreensOf<Of> }> } = {
  hall: () => import("./hall_screens.ts"),
  custody: () => import("./custody_screens.ts"),
  office: () => import("./office_screens.ts"),
  words: () => import("./words_screens.ts"),
};

function pieceWith(name: string) {
  const pieces = Object.keys(PIECES) as Piece[];
  return pieces.find((piece) => (PIECES[piece] as readonly string[]).includes(name));
}

/** Screens whose code is here. */
const fetched = new Map<string, Screen>();

/** This screen need not be fetched. */
export function comesWithTheApp(name: ScreenName, screen: Screen) {
  fetched.set(name, screen);
}

export function screenHere(name: ScreenName) {
  return fetched.get(name);
}

/** Fetch a screen's code, unless it is here; its piece comes whole. */
export async function fetchScreen(name: ScreenName) {
  const piece = pieceWith(name);
  if (!piece || fetched.has(name)) return;
  const { SCREENS } = await FETCH[piece]();
  for (const [named, screen] of Object.entries(SCREENS)) fetched.set(named, screen);
}

/** The screens that a device with these packs may be asked for with no network. */
export function screensKept(packs: readonly ScreenPack[]): ScreenName[] {
  return (["hall", ...packs] as const).flatMap((piece) => [...PIECES[piece]]);
}

function isScreen(name: string): name is ScreenName {
  return name === "pair" || pieceWith(name) !== undefined;
}

/** The screen of the whole thing that a screen shows a part of; it says so if this device does not have the thing. */
export function wholeOf(name: ScreenName): ScreenName {
  const [head = ""] = name.split("/");
  return isScreen(head) ? head : name;
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

/**
 * What these screens tell, they work out of the day that their device holds. A desk holds none, and would read that
 * nothing is on record and all agrees: it has what the office tells of the same in their place.
 */
const OF_A_DAY_HELD = ["day", "places", "porter", "preflight", "rolls", "today"];

function atTheDesk(name: ScreenName | undefined) {
  if (name === "closing") return "closings";
  return name && OF_A_DAY_HELD.includes(name) ? undefined : name;
}

export type Shown = { name: ScreenName; about: About; isKnown: boolean };

/**
 * The screen for an address, and what it is about. `isKnown` is false for an address that names none: then the role's
 * first screen is shown, and the address is none to come back to. Without a role the device is not paired; it can be
 * checked all the same.
 */
export function screenFor(hash: string, role: Role | null): Shown {
  const [head = "", id = "", part = "", key = ""] = partsOf(hash) ?? [];
  const about = {
    item_id: id,
    visit_id: id,
    container_id: id,
    load_id: id,
    day_id: id,
    tag: id,
    zone_key: key,
    code: "",
  };
  if (head === "check") return { name: "check", about: { ...about, role: role ?? "table" }, isKnown: false };
  if (!role || head === "pair") {
    return {
      name: "pair",
      about: { ...about, code: head === "pair" ? id : "", role: role ?? "table" },
      isKnown: false,
    };
  }
  // A desk holds no thing: its entry is asked for.
  if (head === "entry" || (role === "desk" && head === "item" && !part))
    return { name: "queue", about: { ...about, role }, isKnown: true };
  const named = [`${head}/${part}`, head].find(isScreen);
  const name = role === "desk" ? atTheDesk(named) : named;
  return { name: name ?? startOf(role), about: { ...about, role }, isKnown: name !== undefined };
}

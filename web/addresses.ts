/** Which screen an address means. A screen's code is fetched when it is first shown, so that the first stands the sooner. */
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
type ScreenModule = { default: FunctionComponent<About> };
type Screens = Record<string, () => Promise<ScreenModule>>;

const hallScreens = () => import("./screens/hall_screens.ts");
const custodyScreens = () => import("./screens/custody/custody_screens.ts");
const officeScreens = () => import("./screens/office_screens.ts");

/** One of the screens that come as one piece. */
async function oneOf<Name extends string>(
  screens: () => Promise<Record<Name, ScreenModule["default"]>>,
  name: NoInfer<Name>,
): Promise<ScreenModule> {
  return { default: (await screens())[name] };
}

/** The screens that only devices with one of these packs keep. */
const OF_A_PACK = {
  custody: {
    closing: () => oneOf(custodyScreens, "Closing"),
    container: () => oneOf(custodyScreens, "Container"),
    load: () => oneOf(custodyScreens, "Load"),
    places: () => oneOf(custodyScreens, "Places"),
  },
  office: {
    closings: () => oneOf(officeScreens, "DayClosings"),
    copies: () => oneOf(officeScreens, "Copies"),
    day: () => oneOf(officeScreens, "Day"),
    devices: () => oneOf(officeScreens, "Devices"),
    preflight: () => oneOf(officeScreens, "Preflight"),
    queue: () => oneOf(officeScreens, "Queue"),
    rolls: () => oneOf(officeScreens, "Rolls"),
  },
} satisfies Record<ScreenPack, Screens>;

/** The screens that every device keeps. */
const OF_THE_HALL = {
  check: () => oneOf(hallScreens, "Check"),
  cards: () => oneOf(hallScreens, "StopCards"),
  item: () => oneOf(hallScreens, "Item"),
  "item/marks": () => oneOf(hallScreens, "Marks"),
  "item/measures": () => oneOf(hallScreens, "Tried"),
  "item/photos": () => oneOf(hallScreens, "Photos"),
  "item/stop": () => oneOf(hallScreens, "Stop"),
  "item/tag": () => oneOf(hallScreens, "Tag"),
  "item/words": () => oneOf(hallScreens, "Words"),
  "item/works": () => oneOf(hallScreens, "Tried"),
  "item/zone": () => oneOf(hallScreens, "Zone"),
  "item/zones": () => oneOf(hallScreens, "Zones"),
  outbox: () => oneOf(hallScreens, "Outbox"),
  porter: () => oneOf(hallScreens, "Porter"),
  stop: () => oneOf(hallScreens, "StopHere"),
  tag: () => oneOf(hallScreens, "Find"),
  today: () => oneOf(hallScreens, "Today"),
  visit: () => oneOf(hallScreens, "Visit"),
  "visit/receipt": () => oneOf(hallScreens, "Receipt"),
} satisfies Screens;

/** The first screen of all comes with the app. */
export type ScreenName =
  | keyof typeof OF_THE_HALL
  | keyof typeof OF_A_PACK.custody
  | keyof typeof OF_A_PACK.office
  | "pair";
const FETCH: Partial<Record<ScreenName, () => Promise<ScreenModule>>> = {
  ...OF_THE_HALL,
  ...OF_A_PACK.custody,
  ...OF_A_PACK.office,
};

/** Screens whose code is here. */
const fetched = new Map<ScreenName, FunctionComponent<About>>();

/** This screen need not be fetched. */
export function comesWithTheApp(name: ScreenName, screen: FunctionComponent<About>) {
  fetched.set(name, screen);
}

export function screenHere(name: ScreenName) {
  return fetched.get(name);
}

/** Fetch a screen's code, unless it is here. */
export async function fetchScreen(name: ScreenName) {
  const fetch = FETCH[name];
  if (fetch && !fetched.has(name)) fetched.set(name, (await fetch()).default);
}

/** The screens that a device with these packs may be asked for with no network. */
export function screensKept(packs: readonly ScreenPack[]): ScreenName[] {
  return [OF_THE_HALL, ...packs.map((pack) => OF_A_PACK[pack])].flatMap(
    (screens) => Object.keys(screens) as ScreenName[],
  );
}

function isScreen(name: string): name is ScreenName {
  return name === "pair" || Object.hasOwn(FETCH, name);
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
  if (head === "entry") return { name: "queue", about: { ...about, role }, isKnown: true };
  const name = [`${head}/${part}`, head].find(isScreen);
  return { name: name ?? startOf(role), about: { ...about, role }, isKnown: name !== undefined };
}

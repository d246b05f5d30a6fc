/** What this device's browser says of itself: the facts that the check page judges. */
import type { Facts } from "../job/check.ts";
import { get } from "../sync/office.ts";
import { hasItsPacks, keepsReader } from "./packs.ts";
import { readsByItself } from "./scanner.tsx";

/** Some browsers tell the battery; the type checker does not know of it. */
type Battery = { level: number; charging: boolean };
type TellsBattery = { getBattery?: () => Promise<Battery> };

/** Whether the app runs as installed, not as a tab. */
export function isInstalled() {
  return (
    matchMedia("(display-mode: standalone)").matches ||
    Boolean((navigator as { standalone?: boolean }).standalone)
  );
}

/** A phone or tablet, by its pointer and its size. */
export function isHandheld() {
  return matchMedia("(pointer: coarse)").matches && Math.min(screen.width, screen.height) < 900;
}

export function isApple() {
  return /iPhone|iPad/.test(navigator.userAgent);
}

/** Look at everything that can be looked at without asking a person. */
export async function lookAtThisDevice(): Promise<Facts> {
  const [offline, camera, codes, kept, room_bytes, clock_off_ms, battery] = await Promise.all([
    keepsTheApp(),
    cameraState(),
    whoReadsCodes(),
    navigator.storage?.persisted?.() ?? null,
    roomLeft(),
    clockOff(),
    (navigator as TellsBattery).getBattery?.().catch(() => null) ?? null,
  ]);
  return {
    secure: isSecureContext,
    handheld: isHandheld(),
    apple: isApple(),
    installed: isInstalled(),
    offline,
    camera,
    codes,
    kept,
    room_bytes,
    clock_off_ms,
    battery_percent: battery && Math.round(battery.level * 100),
    charging: battery?.charging ?? null,
  };
}

/** Ask a person for the camera and the browser to keep what it holds; both need a tap before them. */
export async function askForCameraAndKeeping() {
  navigator.storage?.persist?.().catch(() => {}); // its answer is looked at afterwards
  const film = await navigator.mediaDevices?.getUserMedia({ video: true }).catch(() => null); // a no is looked at, too
  for (const track of film?.getTracks() ?? []) track.stop();
  if (film) tried = true;
}

/** Some browsers never say that the camera was allowed: then a film that was shown is the sign. */
let tried = false;

async function cameraState(): Promise<Facts["camera"]> {
  if (!navigator.mediaDevices) return "none";
  if (tried) return "granted";
  const [found, asked] = await Promise.all([
    navigator.mediaDevices.enumerateDevices(),
    navigator.permissions?.query({ name: "camera" as PermissionName }).catch(() => null),
  ]);
  if (!found.some(({ kind }) => kind === "videoinput")) return "none";
  return asked?.state === "granted" || asked?.state === "denied" ? asked.state : "not-tried";
}

async function whoReadsCodes(): Promise<Facts["codes"]> {
  if (typeof OffscreenCanvas === "undefined") return "none"; // what the picture is taken into
  if (await readsByItself()) return "itself";
  if (typeof WebAssembly === "undefined") return "none";
  return isSecureContext && (await keepsReader()) ? "kept" : "not-kept";
}

/** Whether the worker stands before the network, and has all that this device shows without it. */
async function keepsTheApp() {
  if (!navigator.serviceWorker?.controller) return false;
  const [page, hasPacks] = await Promise.all([caches.match("/"), hasItsPacks()]);
  return Boolean(page) && hasPacks;
}

async function roomLeft() {
  const estimate = await navigator.storage?.estimate?.().catch(() => null);
  if (!estimate?.quota) return null;
  return estimate.quota - (estimate.usage ?? 0);
}

/** This device's clock less the office's, the way there and back taken as equal; null without the office. */
export async function clockOff() {
  const before = Date.now();
  const health = await get<{ office_time: string }>("/health").catch(() => null);
  return health && Math.round((before + Date.now()) / 2 - Date.parse(health.office_time));
}

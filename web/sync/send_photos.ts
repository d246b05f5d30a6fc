/**
 * Sending pictures: small ones and originals in bundles, large originals piece by piece from where the office has them.
 */
import type { Problem } from "../job/types.ts";
import { photosStand, photosToAskFor } from "../local/keeping.ts";
import { confirmed, photoBytes, photoRefused, photosToSend } from "../local/photos.ts";
import { ask, OfficeSays, post } from "./office.ts";
import { hear, knowing, type Says } from "./round.ts";

const BUNDLE_BYTES = 2 * 1024 * 1024;
const PIECE_BYTES = 512 * 1024;

type PhotosStanding = { here: string[]; copied: string[] };
type PhotoAnswer = { sha256: string; outcome: "kept" | "refused"; problem: Partial<Problem> | null };

/** Ask for photos that the office may have lost, or that may be safe by now. */
export async function askForPhotos() {
  const sha256 = photosToAskFor();
  if (!sha256.length) return;
  const { here, copied } = await post<PhotosStanding>("/sync/photos", { sha256 });
  await photosStand(sha256, new Set(here), new Set(copied));
}

export async function sendThumbs() {
  const thumbs = photosToSend().filter((photo) => photo.is_thumb);
  for (const group of groups(thumbs)) await sendBundle(group);
}

export async function sendOriginals() {
  const originals = photosToSend().filter((photo) => !photo.is_thumb);
  for (const group of groups(originals.filter((photo) => photo.size < BUNDLE_BYTES))) await sendBundle(group);
  for (const photo of originals.filter(({ size }) => size >= BUNDLE_BYTES)) await sendPieces(photo.sha256);
}

/** Photos in groups of at most two million bytes. */
function groups(photos: { sha256: string; size: number }[]) {
  const made: string[][] = [];
  let size = Infinity;
  for (const photo of photos) {
    if (size + photo.size > BUNDLE_BYTES) {
      made.push([]);
      size = 0;
    }
    (made.at(-1) as string[]).push(photo.sha256);
    size += photo.size;
  }
  return made;
}

/** Several whole pictures in one request. */
async function sendBundle(digests: string[]) {
  const contents = [];
  const photos = [];
  for (const sha256 of digests) {
    const bytes = await photoBytes(sha256);
    if (!bytes) continue;
    contents.push(bytes);
    photos.push({ sha256, bytes: bytes.byteLength });
  }
  const head = new TextEncoder().encode(JSON.stringify({ operations: [], photos }));
  const size = new DataView(new ArrayBuffer(4));
  size.setUint32(0, head.byteLength);
  const [path, asked] = knowing("/sync/bundle");
  const response = await ask(path, {
    method: "POST",
    body: new Blob([size.buffer, head, ...contents]),
    headers: { "Content-Type": "application/octet-stream" },
    limitMs: 120_000,
  });
  const { photos: answers, ...says }: Says & { photos: PhotoAnswer[] } = await response.json();
  await hear(says, asked);
  await confirmed(answers.filter(({ outcome }) => outcome === "kept").map(({ sha256 }) => sha256));
  for (const { sha256, outcome, problem } of answers)
    if (outcome === "refused") await photoRefused(sha256, problem ?? {});
}

/**
 * A large picture piece by piece, from where the office has it. Only what stands whole at the office is confirmed:
 * it may have as many bytes as the picture and not have checked them yet.
 */
async function sendPieces(sha256: string) {
  const bytes = await photoBytes(sha256);
  if (!bytes) return;
  const had = await ask(`/photos/${sha256}`, { method: "HEAD" }).then(standing, (error) => {
    if (error instanceof OfficeSays && error.status === 404) return NOTHING;
    throw error;
  });
  try {
    await sendFrom(sha256, bytes, had).catch((error) => {
      // What the office had from before a cut was damaged there; it has thrown it away and takes the picture anew.
      const damaged = error instanceof OfficeSays && error.problem?.code === "wrong_digest" && had.offset > 0;
      if (damaged) return sendFrom(sha256, bytes, NOTHING);
      throw error;
    });
  } catch (error) {
    if (error instanceof OfficeSays && [413, 422].includes(error.status)) {
      await photoRefused(sha256, error.problem);
      return;
    }
    throw error;
  }
  await confirmed([sha256]);
}

type Standing = { offset: number; complete: boolean };
const NOTHING: Standing = { offset: 0, complete: false };

/** How much the office has of a picture, and whether it stands there whole. */
function standing({ headers }: Response): Standing {
  return {
    offset: Number(headers.get("Upload-Offset")),
    complete: headers.get("Upload-Complete") === "?1",
  };
}

/** Send what is left; the last request may be empty, when all bytes are there. */
async function sendFrom(sha256: string, bytes: ArrayBuffer, from: Standing) {
  let now = from;
  while (!now.complete) {
    const { offset } = now;
    const response = await ask(`/photos/${sha256}`, {
      method: "PATCH",
      body: bytes.slice(offset, offset + PIECE_BYTES),
      headers: {
        "Upload-Offset": String(offset),
        "Upload-Length": String(bytes.byteLength),
        "Content-Type": "application/octet-stream",
      },
      limitMs: 120_000,
    });
    now = standing(response);
    if (!now.complete && now.offset <= offset)
      throw new Error("The office takes no more of a picture and does not have it whole.");
  }
}

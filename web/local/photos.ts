/**
 * Photos on this device. The bytes are kept as they came from the camera, together with a small picture and the
 * operation that says what they show; an original goes only once it is safe elsewhere.
 */
import { newId } from "../job/ids.ts";
import type { BodyOf, Problem } from "../job/types.ts";
import { write } from "./changes.ts";
import { StorageFull, type StoredPhoto, transact } from "./database.ts";
import { makeRoom } from "./keeping.ts";
import { photos } from "./memory.ts";
import { keep } from "./outbox.ts";

const THUMB_PX = 320;
/** What the office takes. */
const TYPES = ["image/jpeg", "image/png", "image/webp", "image/heic"] as const;

export async function sha256Of(bytes: ArrayBuffer) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** This is no picture that the phone can open; the message says what to do. */
export class NotAPicture extends Error {
  constructor() {
    super("This file cannot be opened as a JPEG, PNG or WebP picture. Take it again, or choose another.");
  }
}

/** What the office takes at most: `intake/photos/picture.py`. */
const MOST_BYTES = 40 * 1024 * 1024;
const MOST_PIXELS = 60_000_000;

/** The office would refuse it; the message says what to do. */
export class PictureTooLarge extends Error {
  constructor() {
    super(
      "This picture is too large: the office takes 40 MB and 60 megapixels at most. " +
        "Set the camera to smaller pictures and take it again.",
    );
  }
}

type AboutItem = Pick<BodyOf<"attach_photo">, "item_id" | "view" | "zone" | "finding_id">;
type AboutRecord = Pick<BodyOf<"attach_record_photo">, "of_id" | "difference_id">;

/** Keep a picture of an item; resolves when bytes, small picture and operation are on the disk together. */
export async function keepPhoto(blob: Blob, about: AboutItem) {
  const { file, bytes } = await prepared(blob);
  return withRoomFor(blob.size, () => keep("attach_photo", { ...about, ...file }, bytes));
}

/** Keep a picture of what is no item: what was unpacked of a visit, or a difference of the day. */
export async function keepRecordPhoto(blob: Blob, about: AboutRecord) {
  const { file, bytes } = await prepared(blob);
  return withRoomFor(blob.size, () => keep("attach_record_photo", { ...about, ...file }, bytes));
}

/** Store it; if the phone is full, once more after originals that the office has have made room. */
async function withRoomFor<Result>(bytes: number, store: () => Promise<Result>): Promise<Result> {
  try {
    return await store();
  } catch (error) {
    if (error instanceof StorageFull && (await makeRoom(2 * bytes))) return store();
    throw error;
  }
}

/** A picture's bytes, and all that its operation says of the file. Raises NotAPicture, PictureTooLarge. */
async function prepared(blob: Blob) {
  const media_type = TYPES.find((type) => type === blob.type);
  if (!media_type) throw new NotAPicture();
  if (blob.size > MOST_BYTES) throw new PictureTooLarge();
  const bytes = await blob.arrayBuffer();
  const { thumb, width, height } = await shrink(blob);
  const [sha256, thumb_sha256] = await Promise.all([sha256Of(bytes), sha256Of(thumb)]);
  return {
    file: {
      photo_id: newId(),
      sha256,
      bytes: bytes.byteLength,
      media_type,
      width,
      height,
      thumb_sha256,
      thumb_bytes: thumb.byteLength,
      taken_at: new Date().toISOString(),
      withdrawn: false,
    },
    bytes: { sha256, bytes, thumb_sha256, thumb, media_type },
  };
}

/** A small upright JPEG, and the size of the picture. */
async function shrink(blob: Blob) {
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(blob, { imageOrientation: "from-image" });
  } catch {
    throw new NotAPicture();
  }
  const { width, height } = bitmap;
  if (width * height > MOST_PIXELS) throw new PictureTooLarge();
  const scale = Math.min(1, THUMB_PX / Math.max(width, height));
  const canvas = new OffscreenCanvas(
    Math.max(1, Math.round(width * scale)),
    Math.max(1, Math.round(height * scale)),
  );
  (canvas.getContext("2d") as OffscreenCanvasRenderingContext2D).drawImage(
    bitmap,
    0,
    0,
    canvas.width,
    canvas.height,
  );
  bitmap.close();
  const thumb = await (await canvas.convertToBlob({ type: "image/jpeg", quality: 0.8 })).arrayBuffer();
  return { width, height, thumb };
}

/** The digests of all pictures whose bytes are on this device. */
export async function photosHere(): Promise<ReadonlySet<string>> {
  return new Set(
    await transact(["photo_bytes"], "readonly", (tx) => tx.objectStore("photo_bytes").getAllKeys()),
  );
}

type Reading = { digests: string[]; bytes: Promise<(ArrayBuffer | undefined)[]> };
/** What will be read next; pictures that are asked for meanwhile are read with it. */
let gathering: Reading | null = null;

/** A picture's bytes, if this device has them. All that a screen asks for at once is read in one transaction. */
export async function photoBytes(sha256: string): Promise<ArrayBuffer | undefined> {
  gathering ??= readingSoon();
  const { digests, bytes } = gathering;
  const index = digests.push(sha256) - 1;
  return (await bytes)[index];
}

function readingSoon(): Reading {
  const digests: string[] = [];
  const bytes = Promise.resolve().then(() => {
    gathering = null;
    return transact(["photo_bytes"], "readonly", (tx) => {
      const store = tx.objectStore("photo_bytes");
      return Promise.all(digests.map((sha256) => store.get(sha256)));
    });
  });
  return { digests, bytes };
}

/** The pictures that the office has not confirmed, small ones first. */
export function photosToSend(): StoredPhoto[] {
  return photos.value
    .filter(({ at_office, problem }) => !at_office && !problem)
    .sort((a, b) => Number(b.is_thumb) - Number(a.is_thumb));
}

/** The pictures of which it is not certain that the office has them. */
export function photosOnlyHere(): StoredPhoto[] {
  return photos.value.filter(({ at_office, unsure, problem }) => (!at_office || unsure) && !problem);
}

/** The pictures that the office could not take: they stay here, and a person is told. */
export function refusedPhotos() {
  return photos.value.flatMap(({ sha256, problem }) => (problem ? [{ sha256, problem }] : []));
}

/** The office has these on its disk. They stay here until they stand in a second place. */
export function confirmed(digests: string[]) {
  const confirmed_at = new Date().toISOString();
  return write(["photo"], async (tx) => {
    for (const sha256 of digests) {
      const photo = await tx.get("photo", sha256);
      if (photo) await tx.put("photo", { ...photo, at_office: true, confirmed_at });
    }
  });
}

export function photoRefused(sha256: string, problem: Partial<Problem>) {
  return write(["photo"], async (tx) => {
    const photo = await tx.get("photo", sha256);
    if (photo) await tx.put("photo", { ...photo, problem });
  });
}

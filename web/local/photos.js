/**
 * Photos on this device. The bytes are kept as they came from the camera, together with a small picture and the
 * operation that says what they show; an original is freed only after the office has confirmed its digest.
 */
import { newId } from "../job/ids.js";
import { transact } from "./database.js";
import { tell } from "./news.js";
import { keep } from "./outbox.js";

const THUMB_PX = 320;
/** What the office takes. */
const TYPES = new Set(["image/jpeg", "image/png", "image/webp", "image/heic"]);

/** @param {ArrayBuffer} bytes */
export async function sha256Of(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** This is no picture that the phone can open; the message says what to do. */
export class NotAPicture extends Error {
  constructor() {
    super("This file cannot be opened as a JPEG, PNG or WebP picture. Take it again, or choose another.");
  }
}

/**
 * Keep a picture of an item; resolves when bytes, small picture and operation are on the disk together.
 * @param {{blob: Blob, item_id: string, view: string|null, zone: string|null, finding_id: string|null}} taken
 */
export function keepPhoto({ blob, item_id, view, zone, finding_id }) {
  return keepPicture("attach_photo", blob, { item_id, view, zone, finding_id });
}

/**
 * Keep a picture of what is no item: what was unpacked of a visit, or a difference of the day.
 * @param {{blob: Blob, of_id: string, difference_id: string|null}} taken
 */
export function keepRecordPhoto({ blob, of_id, difference_id }) {
  return keepPicture("attach_record_photo", blob, { of_id, difference_id });
}

/** @param {string} kind @param {Blob} blob @param {Record<string, string|null>} about */
async function keepPicture(kind, blob, about) {
  if (!TYPES.has(blob.type)) throw new NotAPicture();
  const bytes = await blob.arrayBuffer();
  const small = await shrink(blob);
  const [sha256, thumb_sha256] = await Promise.all([sha256Of(bytes), sha256Of(small.thumb)]);
  return keep(
    kind,
    {
      ...about, photo_id: newId(), sha256, bytes: bytes.byteLength, media_type: blob.type, width: small.width, height: small.height,
      thumb_sha256, thumb_bytes: small.thumb.byteLength, taken_at: new Date().toISOString(), withdrawn: false,
    },
    { photo: { sha256, bytes, thumb_sha256, thumb: small.thumb, media_type: blob.type } },
  );
}

/** A small upright JPEG, and the size of the picture. @param {Blob} blob */
async function shrink(blob) {
  /** @type {ImageBitmap} */
  let bitmap;
  try {
    bitmap = await createImageBitmap(blob, { imageOrientation: "from-image" });
  } catch {
    throw new NotAPicture();
  }
  const { width, height } = bitmap;
  const scale = Math.min(1, THUMB_PX / Math.max(width, height));
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)));
  /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext("2d")).drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const thumb = await (await canvas.convertToBlob({ type: "image/jpeg", quality: 0.8 })).arrayBuffer();
  return { width, height, thumb };
}

/** @param {string} sha256 @returns {Promise<ArrayBuffer|undefined>} */
export function photoBytes(sha256) {
  return transact(["photo_bytes"], "readonly", (tx) => tx.objectStore("photo_bytes").get(sha256));
}

/** The pictures the office has not confirmed, small ones first. @returns {Promise<{sha256: string, size: number, is_thumb: boolean, media_type: string}[]>} */
export async function photosToSend() {
  const photos = await transact(["photo"], "readonly", (tx) => tx.objectStore("photo").getAll());
  return photos.filter((photo) => !photo.at_office && !photo.problem).sort((one, other) => Number(other.is_thumb) - Number(one.is_thumb));
}

/** The office has these on its disk: originals are freed, small pictures stay for the screens. @param {string[]} digests */
export async function confirmed(digests) {
  await transact(["photo", "photo_bytes"], "readwrite", async (tx) => {
    for (const sha256 of digests) {
      const photo = await tx.objectStore("photo").get(sha256);
      if (!photo) continue;
      await tx.objectStore("photo").put({ ...photo, at_office: true });
      if (!photo.is_thumb) await tx.objectStore("photo_bytes").delete(sha256);
    }
  });
  tell();
}

/** The office refused a picture: it stays here, and a person is told. @param {string} sha256 @param {any} problem */
export async function photoRefused(sha256, problem) {
  await transact(["photo"], "readwrite", async (tx) => {
    const photo = await tx.objectStore("photo").get(sha256);
    if (photo) await tx.objectStore("photo").put({ ...photo, problem });
  });
  tell();
}

/** @returns {Promise<{sha256: string, problem: any}[]>} */
export async function refusedPhotos() {
  const photos = await transact(["photo"], "readonly", (tx) => tx.objectStore("photo").getAll());
  return photos.filter((photo) => photo.problem);
}

/** The camera in the page: a live picture, and a button that keeps what it shows. */
import { useEffect, useRef, useState } from "preact/hooks";
import { html } from "./html.js";
import { attempt, sayWrong } from "./notices.js";

/**
 * Start the back camera on a video element. @param {HTMLVideoElement} video
 * @returns {Promise<() => void>} call it to stop
 */
export async function startCamera(video) {
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      video: { facingMode: { ideal: "environment" }, width: { ideal: 2560 }, height: { ideal: 1440 } },
    });
  } catch (error) {
    const refused = error instanceof DOMException && error.name === "NotAllowedError";
    throw new Error(refused
      ? "The camera is not allowed for this app. Allow it in the phone's settings, or go on without it."
      : "No camera answers on this device. Go on without it.");
  }
  video.srcObject = stream;
  await video.play();
  return () => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
}

/** @param {{take: (blob: Blob) => Promise<unknown>, series?: any, close: () => void}} given */
export function Camera({ take, series = null, close }) {
  const video = useRef(/** @type {HTMLVideoElement|null} */ (null));
  const [taken, setTaken] = useState(0);
  const [busy, setBusy] = useState(true); // until there is a picture to take
  useEffect(() => {
    let stop = () => {};
    let live = true;
    startCamera(/** @type {HTMLVideoElement} */ (video.current)).then(
      (stopping) => { stop = stopping; if (live) setBusy(false); else stop(); },
      (error) => { sayWrong(error); close(); },
    );
    return () => { live = false; stop(); };
  }, []);
  const shoot = () => attempt(async () => {
    setBusy(true);
    try {
      await take(await frameOf(/** @type {HTMLVideoElement} */ (video.current)));
      setTaken((count) => count + 1);
      navigator.vibrate?.(40);
    } finally {
      setBusy(false);
    }
  });
  return html`<div class="camera">
    <video ref=${video} playsinline muted></video>
    ${series && html`<p class="series">${series}</p>`}
    <div class="camera-buttons">
      <button type="button" onClick=${close}>Close camera${taken ? ` (${taken} kept)` : ""}</button>
      <button type="button" class="main" disabled=${busy} onClick=${shoot}>Take</button>
    </div>
  </div>`;
}

/** What the camera shows now: the full picture where the phone can give one, else the video's frame. @param {HTMLVideoElement} video @returns {Promise<Blob>} */
async function frameOf(video) {
  const track = /** @type {MediaStream} */ (video.srcObject).getVideoTracks()[0];
  const Capture = /** @type {any} */ (globalThis).ImageCapture;
  if (Capture && track) {
    const photo = await new Capture(track).takePhoto().catch(() => null); // some cameras offer only frames
    if (photo) return photo;
  }
  const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
  /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext("2d")).drawImage(video, 0, 0);
  return canvas.convertToBlob({ type: "image/jpeg", quality: 0.92 });
}

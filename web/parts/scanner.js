/** Reads QR codes with the camera: the phone's own reader where it has one, else a reader in WebAssembly. */
import { useEffect, useRef, useState } from "preact/hooks";
import { startCamera } from "./camera.js";
import { html } from "./html.js";

const PAUSE_MS = 120;

/** Whether the browser reads QR codes without a library of ours. @returns {Promise<boolean>} */
export async function readsByItself() {
  const Detector = /** @type {any} */ (globalThis).BarcodeDetector;
  const formats = Detector ? await Detector.getSupportedFormats().catch(() => []) : [];
  return formats.includes("qr_code");
}

/**
 * A function that finds QR texts in a picture.
 * @returns {Promise<(picture: ImageData) => Promise<string[]>>}
 */
export async function openReader() {
  if (await readsByItself()) {
    const detector = new (/** @type {any} */ (globalThis).BarcodeDetector)({ formats: ["qr_code"] });
    return async (picture) => (await detector.detect(picture)).map((/** @type {any} */ code) => code.rawValue);
  }
  // By far the largest files of the app: the worker keeps them on the devices that need them, so that this opens offline.
  const { prepareZXingModule, readBarcodes } = await import("zxing-wasm/reader");
  prepareZXingModule({ overrides: { locateFile: () => "/web/vendor/zxing_reader.wasm" } });
  // Only the full QR code: the small sorts are mistaken for it on blurred tags.
  return async (picture) => (await readBarcodes(picture, { formats: ["QRCodeModel2"], maxNumberOfSymbols: 1 })).map((code) => code.text);
}

/**
 * The live picture; calls `found` with each new text. What `found` throws is shown, and scanning goes on.
 * @param {{found: (text: string) => unknown, close: () => void}} given
 */
export function Scanner({ found, close }) {
  const video = useRef(/** @type {HTMLVideoElement|null} */ (null));
  const [said, setSaid] = useState("Hold the tag's code in front of the camera.");
  const latest = useRef(found);
  latest.current = found;
  useEffect(() => {
    const screen = /** @type {HTMLVideoElement} */ (video.current);
    let live = true;
    let stop = () => {};
    let before = "";
    const look = async (/** @type {(picture: ImageData) => Promise<string[]>} */ read) => {
      while (live) {
        const picture = pictureOf(screen);
        const text = picture ? (await read(picture))[0] : undefined;
        if (!live) return;
        if (text && text !== before) {
          before = text; // a code that stays in front of the camera is told once
          try {
            await latest.current(text);
            navigator.vibrate?.(60);
          } catch (error) {
            setSaid(error instanceof Error ? error.message : String(error));
          }
        }
        await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
      }
    };
    (async () => {
      try {
        stop = await startCamera(screen);
        if (!live) return stop();
        await look(await openReader());
      } catch (error) {
        setSaid(`${error instanceof Error ? error.message : error} Key the code in instead.`);
      }
    })();
    return () => {
      live = false;
      stop();
    };
  }, []);
  return html`<div class="camera">
    <video ref=${video} playsinline muted aria-label="What the camera sees"></video>
    <p class="series" role="status">${said}</p>
    <div class="camera-buttons"><button type="button" onClick=${close}>Close camera</button></div>
  </div>`;
}

/** The video's frame now, or null before there is one. @param {HTMLVideoElement} video */
function pictureOf(video) {
  if (!video.videoWidth) return null;
  const scale = Math.min(1, 1280 / video.videoWidth);
  const width = Math.round(video.videoWidth * scale);
  const height = Math.round(video.videoHeight * scale);
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (!context) return null;
  context.drawImage(video, 0, 0, width, height);
  return context.getImageData(0, 0, width, height);
}

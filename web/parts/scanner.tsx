/** Reads QR codes with the camera: the phone's own reader where it has one, else a reader in WebAssembly. */

import { useEffect, useRef, useState } from "preact/hooks";
import { errorWords } from "../job/words.ts";
import { startCamera } from "./camera.tsx";

const PAUSE_MS = 120;

/** The browser's own reader, which TypeScript's library does not know yet. */
interface BarcodeDetector {
  detect: (picture: ImageData) => Promise<{ rawValue: string }[]>;
}
interface BarcodeDetectors {
  new (options: { formats: string[] }): BarcodeDetector;
  getSupportedFormats: () => Promise<string[]>;
}
const { BarcodeDetector: Detector } = globalThis as { BarcodeDetector?: BarcodeDetectors };

/** Whether the browser reads QR codes without a library of ours. */
export async function readsByItself(): Promise<boolean> {
  const formats = (await Detector?.getSupportedFormats().catch(() => [])) ?? [];
  return formats.includes("qr_code");
}

/** A function that finds QR texts in a picture. */
export async function openReader(): Promise<(picture: ImageData) => Promise<string[]>> {
  if (Detector && (await readsByItself())) {
    const detector = new Detector({ formats: ["qr_code"] });
    return async (picture) => (await detector.detect(picture)).map((code) => code.rawValue);
  }
  // The worker keeps it on the devices that need it, so that this opens with no network.
  const { readCodes } = await import("./qr_reader.ts").catch(() => {
    throw new Error("The reader of codes is not kept on this device.");
  });
  return readCodes;
}

/** The live picture; calls `found` with each new text. What `found` throws is shown, and scanning goes on. */
export function Scanner({ found, close }: { found: (text: string) => unknown; close: () => void }) {
  const video = useRef<HTMLVideoElement | null>(null);
  const [message, setMessage] = useState("Hold the tag's code in front of the camera.");
  const latest = useRef(found);
  latest.current = found;
  useEffect(() => {
    const screen = video.current as HTMLVideoElement;
    let live = true;
    let stop = () => {};
    let before = "";
    const look = async (read: (picture: ImageData) => Promise<string[]>) => {
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
            setMessage(errorWords(error));
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
        stop();
        setMessage(`${errorWords(error)} Key the code in instead.`);
      }
    })();
    return () => {
      live = false;
      stop();
    };
  }, []);
  return (
    <div class="camera">
      <video ref={video} playsinline muted aria-label="What the camera sees"></video>
      <p class="series" role="status">
        {message}
      </p>
      <div class="camera-buttons">
        <button type="button" onClick={close}>
          Close camera
        </button>
      </div>
    </div>
  );
}

/** The video's frame now, or null before there is one. */
function pictureOf(video: HTMLVideoElement) {
  if (!video.videoWidth) return null;
  const scale = Math.min(1, 1280 / video.videoWidth);
  const width = Math.round(video.videoWidth * scale);
  const height = Math.round(video.videoHeight * scale);
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (!context) return null;
  context.drawImage(video, 0, 0, width, height);
  return context.getImageData(0, 0, width, height);
}

/** The camera in the page: a live picture, and a button that keeps what it shows. */
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { attempt, sayWrong } from "./notices.tsx";

/**
 * Start the back camera on a video element.
 * Call what it resolves to, to stop it.
 */
export async function startCamera(video: HTMLVideoElement): Promise<() => void> {
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      video: { facingMode: { ideal: "environment" }, width: { ideal: 2560 }, height: { ideal: 1440 } },
    });
  } catch (error) {
    const refused = error instanceof DOMException && error.name === "NotAllowedError";
    throw new Error(
      refused
        ? "The camera is not allowed for this app. Allow it in the phone's settings, or go on without it."
        : "No camera answers on this device. Go on without it.",
    );
  }
  const stop = () => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  video.srcObject = stream;
  try {
    await video.play();
  } catch {
    stop(); // a phone that saves its battery may refuse; the camera must not stay on for nothing
    throw new Error("The camera's picture does not start. Try again, or go on without it.");
  }
  return stop;
}

/**
 * Whether its middle is on the screen, and under nothing that stays there: whoever has scrolled it away, below the head
 * or the keys too, does not see what a press would take.
 */
function isInSight(shown: HTMLElement) {
  const { left, width, top, height } = shown.getBoundingClientRect();
  return document.elementFromPoint(left + width / 2, top + height / 2) === shown;
}

/**
 * What presses the shutter from outside, such as a key of the dock; null while there is no camera. Out of sight the
 * picture first comes back into it, and the next press takes. What it answers is done once the picture is kept.
 */
export type Shutter = { current: (() => unknown) | null };

/** With a `shutter` it shows no keys of its own. */
export function Camera({
  take,
  series = null,
  shutter,
  close,
}: {
  take: (blob: Blob) => Promise<unknown>;
  series?: ComponentChildren;
  shutter?: Shutter;
  close: () => void;
}) {
  const video = useRef<HTMLVideoElement | null>(null);
  const [taken, setTaken] = useState(0);
  const [busy, setBusy] = useState(true); // until there is a picture to take
  const stands = useRef(false); // there was one
  useEffect(() => {
    let stop = () => {};
    let live = true;
    startCamera(video.current as HTMLVideoElement).then(
      (stopping) => {
        stop = stopping;
        if (live) setBusy(false);
        else stop();
      },
      (error) => {
        sayWrong(error);
        close();
      },
    );
    return () => {
      live = false;
      stop();
    };
  }, []);
  const last = useRef<Promise<unknown> | null>(null); // the picture that is being kept
  const shoot = () => {
    last.current = attempt(async () => {
      setBusy(true);
      try {
        await take(await frameOf(video.current as HTMLVideoElement));
        setTaken((count) => count + 1);
        navigator.vibrate?.(40);
      } finally {
        setBusy(false);
      }
    });
    return last.current;
  };
  const wanted = useRef(false); // the shutter was pressed while the picture was still coming
  if (shutter)
    shutter.current = () => {
      const shown = video.current as HTMLVideoElement;
      if (stands.current && !isInSight(shown)) return shown.scrollIntoView({ block: "center" });
      if (!busy) return shoot();
      wanted.current = !stands.current;
      return last.current;
    };
  useEffect(() => {
    if (busy) return;
    stands.current = true;
    if (wanted.current) shoot();
    wanted.current = false;
  }, [busy]);
  return (
    <div class="camera">
      <video ref={video} playsinline muted></video>
      {series && <p class="series">{series}</p>}
      {!shutter && (
        <div class="camera-buttons">
          <button type="button" onClick={close}>
            Close camera{taken ? ` (${taken} kept)` : ""}
          </button>
          <button type="button" class="main" disabled={busy} onClick={shoot}>
            Take
          </button>
        </div>
      )}
    </div>
  );
}

/** A camera's own way to a full picture, which TypeScript's library does not know yet. */
interface ImageCaptures {
  new (track: MediaStreamTrack): { takePhoto: () => Promise<Blob> };
}

/** What the camera shows now: the full picture where the phone can give one, else the video's frame. */
async function frameOf(video: HTMLVideoElement): Promise<Blob> {
  const track = (video.srcObject as MediaStream).getVideoTracks()[0];
  const Capture = (globalThis as { ImageCapture?: ImageCaptures }).ImageCapture;
  if (Capture && track) {
    const photo = await new Capture(track).takePhoto().catch(() => null); // some cameras offer only frames
    if (photo) return photo;
  }
  const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
  (canvas.getContext("2d") as OffscreenCanvasRenderingContext2D).drawImage(video, 0, 0);
  return canvas.convertToBlob({ type: "image/jpeg", quality: 0.92 });
}

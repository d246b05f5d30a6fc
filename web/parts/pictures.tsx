/** Pictures from the phone's camera or from its files, one after the other, each kept before the next. */
import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { Camera } from "./camera.tsx";
import { sayWrong, wrongWords } from "./notices.tsx";
import { useOwnId } from "./own_id.ts";

type FileEvent = JSX.TargetedEvent<HTMLInputElement>;

const TYPES = "image/jpeg,image/png,image/webp";

/**
 * Keeps what was chosen one after the other, since a phone cannot hold several large pictures unpacked; how many are
 * left.
 */
function useKeeping(take: PicturesOf["take"]) {
  const [busy, setBusy] = useState(0);
  const chosen = async (event: FileEvent) => {
    const files = inOrder([...(event.currentTarget.files ?? [])]);
    event.currentTarget.value = "";
    setBusy(files.length);
    const isOne = files.length === 1;
    const wrong: string[] = [];
    let place = 0; // what cannot be kept takes no place
    for (const file of files) {
      try {
        await take(file, isOne ? null : place);
        place += 1;
      } catch (error) {
        wrong.push(isOne ? wrongWords(error) : `${file.name}: ${wrongWords(error)}`);
      }
      // Once more after those that were kept: that is said as well.
      if (wrong.length) sayWrong(new Error(wrong.join(" ")));
      setBusy((left) => left - 1);
    }
  };
  return { busy, chosen };
}

/** As they were taken, which is what a camera's file says; a phone's picker may give them in any order. */
function inOrder(files: File[]) {
  return files.sort(
    (a, b) => a.lastModified - b.lastModified || a.name.localeCompare(b.name, undefined, { numeric: true }),
  );
}

type PicturesOf = {
  /** `place` is its place among several that were chosen together, of which nobody has said what each shows. */
  take: (blob: Blob, place?: number | null) => Promise<unknown>;
};

/** The phone's own camera, and files; where the page's camera has its key in the dock. */
export function OtherPictures({ take }: PicturesOf) {
  return (
    <div class="picture-buttons">
      <FileButtons take={take} />
    </div>
  );
}

function FileButtons({ take }: PicturesOf) {
  const { busy, chosen } = useKeeping(take);
  return (
    <>
      <FileButton words="Phone's camera" capture={true} chosen={chosen} />
      <FileButton words="Files" capture={false} chosen={chosen} />
      {busy > 0 && <p role="status">Keeping {busy} …</p>}
    </>
  );
}

/**
 * Three ways to a picture: the camera in this page for several in a row, the phone's own camera, its files.
 * `series` tells the camera what comes next
 */
export function PictureButtons({ take, series = null }: PicturesOf & { series?: ComponentChildren }) {
  const [camera, setCamera] = useState(false);
  if (camera) return <Camera take={take} series={series} close={() => setCamera(false)} />;
  return (
    <div class="picture-buttons">
      {"mediaDevices" in navigator && (
        <button type="button" onClick={() => setCamera(true)}>
          Take photos
        </button>
      )}
      <FileButtons take={take} />
    </div>
  );
}

function FileButton({
  words,
  capture,
  chosen,
}: {
  words: string;
  capture: boolean;
  chosen: (event: FileEvent) => void;
}) {
  const id = useOwnId();
  // "capture" and "multiple" do not go together on phones.
  return (
    <span class="file-button">
      <input
        id={id}
        type="file"
        accept={TYPES}
        multiple={!capture}
        {...(capture ? { capture: "environment" } : {})}
        onChange={chosen}
      />
      <label for={id}>{words}</label>
    </span>
  );
}

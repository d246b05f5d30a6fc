/** Pictures from the phone's camera or from its files, one after the other, each kept before the next. */
import { useId, useState } from "preact/hooks";
import { html } from "./html.js";
import { attempt } from "./notices.js";
import { Camera } from "./camera.js";

const TYPES = "image/jpeg,image/png,image/webp";

/**
 * Three ways to a picture: the camera in this page for several in a row, the phone's own camera, its files.
 * @param {{take: (blob: Blob) => Promise<unknown>, series?: any}} given `series` tells the camera what comes next
 */
export function PictureButtons({ take, series = null }) {
  const [busy, setBusy] = useState(0);
  const [camera, setCamera] = useState(false);
  const chosen = async (/** @type {any} */ event) => {
    const files = [...event.target.files];
    event.target.value = "";
    setBusy(files.length);
    // One after the other: a phone cannot hold several large pictures unpacked.
    for (const file of files) {
      await attempt(() => take(file));
      setBusy((left) => left - 1);
    }
  };
  if (camera) return html`<${Camera} take=${take} series=${series} close=${() => setCamera(false)} />`;
  return html`<div class="picture-buttons">
    ${"mediaDevices" in navigator && html`<button type="button" onClick=${() => setCamera(true)}>Take photos</button>`}
    <${FileButton} words="Phone's camera" capture=${true} chosen=${chosen} />
    <${FileButton} words="Files" capture=${false} chosen=${chosen} />
    ${busy > 0 && html`<p role="status">Keeping ${busy} …</p>`}
  </div>`;
}

/** @param {{words: string, capture: boolean, chosen: (event: any) => void}} given */
function FileButton({ words, capture, chosen }) {
  const id = useId();
  // "capture" and "multiple" do not go together on phones.
  return html`<span class="file-button">
    <input id=${id} type="file" accept=${TYPES} multiple=${!capture} ...${capture ? { capture: "environment" } : {}} onChange=${chosen} />
    <label for=${id}>${words}</label>
  </span>`;
}

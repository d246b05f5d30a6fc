/** Pictures of what is no item: of a visit's things as they were unpacked, of a difference. */
import { listed } from "../job/record.js";
import { keepRecordPhoto } from "../local/photos.js";
import { html } from "./html.js";
import { PictureButtons } from "./pictures.js";
import { Thumb } from "./thumb.js";

/** @param {{record: import("../job/types.js").RecordCopy, difference_id?: string|null, words: string}} given `words` say what the pictures show */
export function RecordPhotos({ record, difference_id = null, words }) {
  const photos = listed(record, "photos/").filter(({ value }) => !value.withdrawn && value.difference_id === difference_id);
  return html`${photos.length > 0 && html`<div class="pictures">${photos.map(({ id, value }, place) => html`<${Thumb} key=${id} sha256=${value.thumb_sha256} words=${`${words}, picture ${place + 1}`} />`)}</div>`}
    <${PictureButtons} take=${(/** @type {Blob} */ blob) => keepRecordPhoto({ blob, of_id: record.record_id, difference_id })} />`;
}

/** Pictures of what is no item: of a visit's things as they were unpacked, of a difference. */

import type { RecordCopy } from "../job/types.ts";
import { listed } from "../job/values.ts";
import { keepRecordPhoto } from "../local/photos.ts";
import { PictureButtons } from "./pictures.tsx";
import { Thumb } from "./thumb.tsx";

/** `words` say what the pictures show */
export function RecordPhotos({
  record,
  difference_id = null,
  words,
}: {
  record: RecordCopy;
  difference_id?: string | null;
  words: string;
}) {
  const photos = listed(record, "photos/").filter(
    ({ value }) => !value.withdrawn && value.difference_id === difference_id,
  );
  return (
    <>
      {photos.length > 0 && (
        <div class="pictures">
          {photos.map(({ id, value }, index) => (
            <Thumb key={id} sha256={value.thumb_sha256} words={`${words}, picture ${index + 1}`} />
          ))}
        </div>
      )}
      <PictureButtons
        take={(blob: Blob) => keepRecordPhoto(blob, { of_id: record.record_id, difference_id })}
      />
    </>
  );
}

/** What a sentence rests on: the fields of the record, and the pictures of what it speaks of. */

import { isAdded, type Line } from "../../job/desk_words.ts";
import type { PhotoValue } from "../../job/fields.ts";
import { photosOf } from "../../job/progress.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldWords, photoWords, valueWords } from "../../job/value_words.ts";
import { firstUpper } from "../../job/words.ts";
import { listsOf } from "../../local/plan_book.ts";
import { Thumb } from "../../parts/thumb.tsx";

/** More than these are looked up: the overall word rests on every zone. */
const SHOWN = 5;

export function RestsOn({ item, line }: { item: ItemRecord; line: Line }) {
  const fields = [...new Set(line.recorded.flatMap(({ from }) => from))].filter((name) => item.fields[name]);
  if (isAdded(line)) return <p class="hint">Yours alone: it rests on nothing in the record.</p>;
  if (!fields.length) return <p class="hint">It rests on what is not in the record: nobody spoke of it.</p>;
  const rest = fields.slice(SHOWN);
  return (
    <>
      <p class="hint">Rests on</p>
      <Fields item={item} names={fields.slice(0, SHOWN)} />
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more</summary>
          <Fields item={item} names={rest} />
        </details>
      )}
      <Photos item={item} fields={fields} />
    </>
  );
}

function Fields({ item, names }: { item: ItemRecord; names: string[] }) {
  const lists = listsOf(item);
  return (
    <ul class="rests-on">
      {names.map((name) => (
        <li key={name}>
          <strong>{firstUpper(fieldWords(name, lists))}:</strong>{" "}
          {valueWords(item.fields[name]?.value, name, lists)}
        </li>
      ))}
    </ul>
  );
}

/** The pictures of its findings; those of its zones where it speaks of none. */
function Photos({ item, fields }: { item: ItemRecord; fields: string[] }) {
  const isOfFinding = ({ finding_id }: PhotoValue) => fields.includes(`findings/${finding_id}`);
  const isOfZone = ({ zone }: PhotoValue) => fields.includes(`zones/${zone}`);
  const all = photosOf(item);
  const found = all.filter(({ value }) => isOfFinding(value));
  const photos = found.length ? found : all.filter(({ value }) => isOfZone(value));
  if (!photos.length || fields.length > SHOWN) return null;
  return (
    <ul class="rests-on-pictures">
      {photos.map(({ id, value }) => (
        <li key={id}>
          <a href={`/photos/${value.sha256}/large`} target="_blank" rel="noreferrer">
            <Thumb sha256={value.thumb_sha256} words={photoWords(value, listsOf(item))} />
          </a>
        </li>
      ))}
    </ul>
  );
}

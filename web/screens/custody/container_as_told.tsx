/**
 * A container at the desk, and at a manager's device that holds another day: where it is, its seal, what is in it, as
 * the office tells it. Whoever has it before them works with it at a device that holds its day.
 */
import { lackingIn } from "../../job/compared.ts";
import { type ContentsOfEach, contentsOfEach, itemsWithin, piecesHere } from "../../job/contents.ts";
import { thingName } from "../../job/custody.ts";
import { SEALS } from "../../job/entered_words.ts";
import { isNotCome } from "../../job/not_come.ts";
import { tagsOf } from "../../job/progress.ts";
import { wrongSeal } from "../../job/sealed.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { useTold } from "./as_told.ts";
import { Whereabouts } from "./container_where.tsx";

export function ContainerAsTold({ container_id, back }: { container_id: string; back: string }) {
  const told = useTold(`/containers/${container_id}`);
  const container = typeof told === "object" && told.containers.find((one) => one.record_id === container_id);
  if (typeof told === "string" || !container)
    return (
      <Frame title="Container" back={back}>
        <p class="none">{typeof told === "string" ? told : "The office does not know this container."}</p>
      </Frame>
    );
  const things = [...told.items, ...told.containers];
  const contents = contentsOfEach(things);
  return (
    <Frame title={firstUpper(thingName(container))} back={back}>
      <p class="big-tag">{shown(container.number)}</p>
      <Whereabouts {...{ container, things }} held={itemsWithin(container, contents)} />
      <p>{sealWords(container)}</p>
      <section>
        <h2>In it</h2>
        <Within container_id={container_id} contents={contents} />
      </section>
    </Frame>
  );
}

function sealWords(container: ContainerRecord) {
  const seal = fieldValue(container, "seal");
  if (!seal) return "No seal is on record.";
  const state = SEALS.find(([key]) => key === seal.state)?.[1].toLowerCase();
  const at = momentWords(container.fields.seal?.made_at ?? "");
  return `Seal ${seal.seal}, ${wrongSeal(seal) ?? state}, ${at}.`;
}

function Within({ container_id, contents }: { container_id: string; contents: ContentsOfEach }) {
  const held = contents.get(container_id) ?? [];
  if (!held.length) return <p class="none">Nothing is in it, as far as was scanned.</p>;
  return (
    <ul class="rows">
      {held.map((thing) => (
        <li key={thing.record_id}>
          <Row {...{ thing, container_id }} />
          {thing.kind === "container" && (
            <div class="nested">
              <Within container_id={thing.record_id} contents={contents} />
            </div>
          )}
        </li>
      ))}
    </ul>
  );
}

function Row({ thing, container_id }: { thing: ThingRecord; container_id: string }) {
  const isItem = thing.kind === "item";
  const says = isItem && [
    tagsOf(thing).map(shown).join(", ") || "no tag",
    piecesHere(thing, container_id, lackingIn(thing, container_id)),
    isNotCome(thing) ? "not there as it was unpacked" : "",
  ];
  return (
    <a class="row" href={`#/${isItem ? "entry" : "container"}/${thing.record_id}`}>
      <span class="what">
        {firstUpper(thingName(thing))}
        {says && <small>{says.filter(Boolean).join(", ")}</small>}
      </span>
    </a>
  );
}

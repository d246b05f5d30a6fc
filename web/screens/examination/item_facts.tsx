/** What an item is: seen, concluded and told are three different places. */

import { chosenOf, offersFor } from "../../job/naming.ts";
import type { Plan } from "../../job/types.ts";
import { fieldValue, hearsOwner } from "../../job/values.ts";
import { device, recordOf, records } from "../../local/memory.ts";
import { enterGoesOn } from "../../parts/enter_goes_on.ts";
import { usePlanBook, useSelected } from "../../parts/use.ts";
import { CalledFor } from "./item_called.tsx";
import { Words } from "./item_words.tsx";

/** The short descriptions of the other things of its class on this device, the newest first. */
function useDescriptions(item_id: string): string {
  return useSelected(() => {
    const class_id = fieldValue(recordOf("item", item_id), "class_id");
    const others = (records("item") ?? []).filter(
      (item) => item.record_id !== item_id && fieldValue(item, "class_id") === class_id,
    );
    const described = others.map((item) => fieldValue(item, "short_description") ?? "");
    return described.reverse().join("\n");
  }, [item_id]);
}

/** By what words things of the class have zones or drawings of their own. */
function useKinds(plan: Plan | null): string[][] {
  const outlines = usePlanBook()?.outlines?.[plan?.class_id ?? ""] ?? [];
  const drawn = outlines.map(({ of = [] }) => of).filter(({ length }) => length);
  return [...(plan?.kinds ?? []).map(({ named }) => named), ...drawn];
}

/** Whether this table asks what the owner of a thing tells of it. */
function isToldHere(item_id: string) {
  const visit = recordOf("visit", recordOf("item", item_id)?.visit_id ?? "");
  return Boolean(device.value && hearsOwner(visit, device.value));
}

export function WhatItIs({ item_id, plan }: { item_id: string; plan: Plan | null }) {
  const used = useDescriptions(item_id);
  const kinds = useKinds(plan);
  const offers = (text: string, write: (text: string) => void) => (
    <div class="chips offers">
      {[chosenOf, offersFor].flatMap((wordsOf) =>
        wordsOf(text, used.split("\n"), plan?.called ?? [], kinds).map(({ words, becomes }) => (
          <button
            type="button"
            key={words}
            class="chip"
            aria-pressed={wordsOf === chosenOf}
            onClick={() => write(becomes)}
          >
            {words}
          </button>
        )),
      )}
    </div>
  );
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keys are those of the fields in it
    <section id="what-it-is" onKeyDown={enterGoesOn}>
      <h2>What it is</h2>
      <Words
        item_id={item_id}
        field="short_description"
        label="Short description"
        hint="A few words, as on the tag's list"
        max={200}
        below={(text, write) => (
          <>
            {plan && offers(text, write)}
            <CalledFor item_id={item_id} text={text} />
          </>
        )}
      />
      <Words
        item_id={item_id}
        field="materials"
        label="Materials"
        hint="As seen; “tests as” only after a test"
      />
      <Words
        item_id={item_id}
        field="seen_words"
        label="Seen"
        hint="What anybody could see: shape, colour, marks, wear"
        lines={3}
      />
      <Words
        item_id={item_id}
        field="concluded_words"
        label="Concluded"
        hint="What we think follows from it"
        lines={2}
      />
      {useSelected(() => isToldHere(item_id), [item_id]) ? (
        <Words
          item_id={item_id}
          field="told_words"
          label="Told by the owner"
          hint="Their words. It is never printed as ours"
          lines={2}
        />
      ) : (
        <p>What the owner tells is written at their table, the door or the desk.</p>
      )}
      <div class="pair">
        <Words item_id={item_id} field="colour_now" label="Colour now" />
        <Words
          item_id={item_id}
          field="colour_was"
          label="Colour where light did not reach"
          hint="Only if it was seen"
        />
      </div>
    </section>
  );
}

export function Packaging({ item_id }: { item_id: string }) {
  return (
    <section>
      <h2>Packaging</h2>
      <Words item_id={item_id} field="packaging" label="How it is wrapped for the van" />
    </section>
  );
}

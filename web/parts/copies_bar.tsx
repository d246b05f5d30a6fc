/** One line where copies are not the point: which of them a person has to look at, and that there is none. */
import { useEffect, useState } from "preact/hooks";
import { write } from "../local/changes.ts";
import { settingIn, transact } from "../local/database.ts";
import { get } from "../sync/office.ts";
import { type Copy, copyTrouble, isInTrouble } from "./copy_trouble.ts";
import { momentWords } from "./moments.ts";
import { useOfficeChanges } from "./office_changes.ts";

/**
 * Shown to those who may look at copies, and leads them there. That there is no copy at all is said until somebody went
 * there, once a day.
 */
export function CopiesBar() {
  const [copies, setCopies] = useState<Copy[] | null>(null);
  const [saysNone, setSaysNone] = useState(false);
  const read = () =>
    void get<{ copies: Copy[] }>("/copies").then(
      async ({ copies }) => {
        setSaysNone(!copies.length && !(await wasToldToday()));
        setCopies(copies);
      },
      () => null,
    );
  useEffect(read, []);
  useOfficeChanges(read);
  const wrong = copies?.filter(isInTrouble) ?? [];
  if (!wrong.length && !saysNone) return null;
  return (
    <a class="bar" href="#/copies">
      {wrong.length
        ? wrong.map((copy) => (
            <span class="bar-line" key={copy.folder}>
              {withAge(copy)}
            </span>
          ))
        : NO_COPY}
    </a>
  );
}

const NO_COPY =
  "Nothing is kept in a second place: what the office has is lost with its disk. Set up a copy.";

function withAge(copy: Copy) {
  return `${copyTrouble(copy)}${copy.complete_at ? `; whole last ${momentWords(copy.complete_at)}` : ""}.`;
}

const today = () => new Date().toDateString();

async function wasToldToday(): Promise<boolean> {
  return (await transact(["setting"], "readonly", (tx) => settingIn(tx, "no copy told"))) === today();
}

/** Said, and gone there: not again today. */
export function noteTold() {
  return write(["setting"], (tx) => tx.remember("no copy told", today()));
}

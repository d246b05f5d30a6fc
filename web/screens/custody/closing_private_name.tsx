/** Words that stand for good and name a private owner are asked about once: a second press alone keeps them. */

import { useState } from "preact/hooks";
import { privateNamed } from "../../job/private_named.ts";
import { records } from "../../local/memory.ts";

/** `text` is what is written now, and `where` it would stand. */
export function usePrivateName(day_id: string, text: string, where = "with the day") {
  const [asked, setAsked] = useState("");
  const namedIn = (typed: string) => privateNamed(typed, records("visit", day_id) ?? []);
  const isAsked = asked !== "" && asked === text;
  return {
    isAsked,
    /** Whether it is to be asked about first; asking is then begun. */
    asksFirst: (typed = text) => {
      const isFirst = asked !== typed && namedIn(typed).length > 0;
      if (isFirst) setAsked(typed);
      return isFirst;
    },
    warning: isAsked && (
      <p class="bar wrong" role="alert">
        This names the private owner of {namedIn(text).join(" and ")}. It would stand {where} for good, and on
        its paper, for all to read. Say it without the name.
      </p>
    ),
  };
}

/** What the key says once it was asked. */
export const WITH_THE_NAME = "Keep it with the name";

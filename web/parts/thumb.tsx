/** A small picture: from this device if it has it, else from the office. */
import { useEffect, useRef, useState } from "preact/hooks";
import { photoBytes } from "../local/photos.ts";
import { whenInSight } from "./sight.ts";

/**
 * `words` tell what the picture shows; empty if it stands beside its name. In a list it is read when it comes in sight;
 * `printed`: at once, since it may go on paper without having been seen.
 */
type ThumbOf = { sha256: string | undefined; words: string; printed?: boolean };

export function Thumb({ sha256, words, printed = false }: ThumbOf) {
  if (!sha256) return <span class="thumb empty" aria-hidden="true"></span>;
  return <Picture key={sha256} sha256={sha256} words={words} printed={printed} />;
}

function Picture({ sha256, words, printed }: Required<ThumbOf> & { sha256: string }) {
  const [address, setAddress] = useState("");
  const empty = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    let made = "";
    let live = true;
    const read = () =>
      photoBytes(sha256).then(
        (bytes) => {
          if (!live) return;
          if (bytes) made = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
          setAddress(made || `/photos/${sha256}`);
        },
        () => setAddress(`/photos/${sha256}`),
      );
    if (printed) read();
    const stop = printed ? null : whenInSight(empty.current as HTMLSpanElement, read);
    return () => {
      live = false;
      stop?.();
      if (made) URL.revokeObjectURL(made);
    };
  }, []);
  return address ? (
    <img class="thumb" src={address} alt={words} />
  ) : (
    <span ref={empty} class="thumb empty" aria-hidden="true"></span>
  );
}

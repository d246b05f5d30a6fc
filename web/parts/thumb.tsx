/** A small picture: from this device if it has it, else from the office; an empty place while neither is to be had. */
import { useEffect, useRef, useState } from "preact/hooks";
import { device } from "../local/memory.ts";
import { photoBytes } from "../local/photos.ts";
import { pictureAhead } from "../local/pictures_ahead.ts";
import { status } from "../sync/status.ts";
import { whenInSight } from "./sight.ts";

/**
 * `words` tell what the picture shows; empty if it stands beside its name. `inList`: one of many, which is read when it
 * comes in sight; the others are read at once, since they may go on paper without having been seen.
 * `shows` is told whether it is there to be looked at.
 */
type ThumbOf = {
  sha256: string | undefined;
  words: string;
  inList?: boolean;
  shows?: (isHere: boolean) => void;
};

export function Thumb({ sha256, words, inList = false, shows }: ThumbOf) {
  if (!sha256) return <span class="thumb empty" aria-hidden="true"></span>;
  const { revoked, role, day_id } = device.value ?? {};
  const isOff = Boolean(revoked); // then it shows none but its own that it still holds
  // Given other work, or another day, it asks anew whether it may read this one.
  return (
    <Picture key={`${sha256} ${isOff} ${role} ${day_id}`} {...{ sha256, words, inList, shows, isOff }} />
  );
}

/** In the place of a picture that could not be had; it is asked for again once the office is heard. */
function Lacking({ words, again }: { words: string; again: () => void }) {
  const heard = status.value.lastContactAt;
  const before = useRef(heard);
  useEffect(() => {
    if (heard !== before.current) again();
  }, [heard]);
  return <span class="thumb empty" title={words && `${words}: not on this device`}></span>;
}

/** Its own, or one that was fetched before the network went. */
async function bytesHere(sha256: string): Promise<BlobPart | null> {
  return (await photoBytes(sha256)) ?? (await pictureAhead(sha256));
}

function Picture({ sha256, words, inList, shows, isOff }: ThumbOf & { sha256: string; isOff: boolean }) {
  const [address, setAddress] = useState("");
  const [isLacking, setLacking] = useState(false);
  const empty = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    let made = "";
    let live = true;
    const atOffice = isOff ? "" : `/photos/${sha256}`;
    const read = () =>
      bytesHere(sha256).then(
        (bytes) => {
          if (!live) return;
          if (bytes) made = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
          setAddress(made || atOffice);
        },
        () => setAddress(atOffice),
      );
    const stop = inList ? whenInSight(empty.current as HTMLSpanElement, read) : null;
    if (!inList) read();
    return () => {
      live = false;
      stop?.();
      if (made) URL.revokeObjectURL(made);
    };
  }, []);
  if (!address) return <span ref={empty} class="thumb empty" aria-hidden="true"></span>;
  if (isLacking) return <Lacking words={words} again={() => setLacking(false)} />;
  return (
    <img
      class="thumb"
      src={address}
      alt={words}
      onLoad={() => shows?.(true)}
      onError={() => {
        setLacking(true);
        shows?.(false);
      }}
    />
  );
}

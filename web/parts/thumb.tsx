/** A small picture: from this device if it has it, else from the office. */
import { useEffect, useState } from "preact/hooks";
import { photoBytes } from "../local/photos.ts";

/** `words` tell what the picture shows; empty if it stands beside its name */
export function Thumb({ sha256, words }: { sha256: string | undefined; words: string }) {
  const [address, setAddress] = useState("");
  useEffect(() => {
    let made = "";
    let live = true;
    if (sha256) {
      photoBytes(sha256).then(
        (bytes) => {
          if (!live) return;
          if (bytes) made = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
          setAddress(made || `/photos/${sha256}`);
        },
        () => setAddress(`/photos/${sha256}`),
      );
    } else setAddress("");
    return () => {
      live = false;
      if (made) URL.revokeObjectURL(made);
    };
  }, [sha256]);
  return address ? (
    <img class="thumb" src={address} alt={words} loading="lazy" />
  ) : (
    <span class="thumb empty" aria-hidden="true"></span>
  );
}

/** A drawing that the office made, shown as a picture, so that nothing in it can run. */
import { useEffect, useState } from "preact/hooks";

export function SvgPicture({ svg, words }: { svg: string; words: string }) {
  const [address, setAddress] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  return address ? <img class="qr" src={address} alt={words} /> : null;
}

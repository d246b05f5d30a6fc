/** Moments in words, by this device's clock and place, and amounts of bytes. */

/** Hours and minutes by this device. */
export function clockWords(moment: string | number) {
  return new Date(moment).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
}

/** Day and time, for the desk. */
export function momentWords(moment: string) {
  return new Date(moment).toLocaleString("en-GB", {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  });
}

/** How far a clock was ahead of the office's, in words, with no more exactness than matters. */
export function clockOffWords(seconds: number) {
  const minutes = Math.round(Math.abs(seconds) / 60);
  const days = Math.round(minutes / 1440);
  const [amount, unit] =
    days >= 2 ? [days, "days"] : minutes >= 120 ? [Math.round(minutes / 60), "hours"] : [minutes, "min"];
  return `${amount} ${unit} ${seconds > 0 ? "ahead" : "behind"}`;
}

/** How many bytes, in words. */
export function bytesWords(bytes: number) {
  if (bytes < 1_000_000) return `${Math.ceil(bytes / 1000)} kB`;
  return `${(bytes / 1_000_000).toFixed(1)} MB`;
}

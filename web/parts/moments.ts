/** Moments in words, by this device's clock and place, and amounts of bytes. */

// To make one costs far more than to use it, and a list has hundreds of moments.
const CLOCK = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });
const MOMENT = new Intl.DateTimeFormat("en-GB", {
  day: "numeric",
  month: "short",
  hour: "2-digit",
  minute: "2-digit",
});

/** Hours and minutes by this device. */
export function clockWords(moment: string | number) {
  return CLOCK.format(new Date(moment));
}

/** Day and time, for the desk. */
export function momentWords(moment: string) {
  return MOMENT.format(new Date(moment));
}

/** How many bytes, in words. */
export function bytesWords(bytes: number) {
  if (bytes < 1_000_000) return `${Math.ceil(bytes / 1000)} kB`;
  return `${(bytes / 1_000_000).toFixed(1)} MB`;
}

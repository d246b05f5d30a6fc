/**
 * Small pictures that others took, fetched before the network goes: a store that unpacks with no network compares each thing
 * with them. They are copies of what the office has, so that they leave with their day and nobody counts on them.
 */
import { device } from "./memory.ts";
import { photoBytes } from "./photos.ts";

const PICTURES = "pictures ";
const AT_ONCE = 4;

const addressOf = (sha256: string) => `/photos/${sha256}`;

/** A browser keeps no such copies where the page is not trusted; then they are shown from the office. */
function store(): CacheStorage | null {
  return globalThis.caches ?? null;
}

/** A picture fetched before; null if this device has none. */
export async function pictureAhead(sha256: string): Promise<Blob | null> {
  return (await (await store()?.match(addressOf(sha256)))?.blob()) ?? null;
}

/** Which of these pictures could not be shown here with no network. */
export async function lackingPictures(digests: readonly string[]): Promise<string[]> {
  const here = await Promise.all(
    digests.map(async (sha256) => Boolean((await photoBytes(sha256)) ?? (await pictureAhead(sha256)))),
  );
  return digests.filter((_, index) => !here[index]);
}

/**
 * Fetch what is lacking, a few at once; `fetched` is told after each. It ends with the first that fails, and what came
 * before stays: asked again, it goes on from there. Throws what `ask` throws.
 */
export async function fetchAhead(
  digests: readonly string[],
  ask: (address: string) => Promise<Response>,
  fetched: () => void,
): Promise<void> {
  const cache = await store()?.open(`${PICTURES}${device.peek()?.day_id ?? ""}`);
  if (!cache) return;
  const left = [...(await lackingPictures(digests))];
  const work = async () => {
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      await cache.put(addressOf(next), await ask(addressOf(next)));
      fetched();
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
}

/** Let go of the pictures of every day but this one; "" keeps none. */
export async function forgetPicturesBut(day_id: string) {
  const names = (await store()?.keys()) ?? [];
  for (const name of names)
    if (name.startsWith(PICTURES) && name !== `${PICTURES}${day_id}`) await store()?.delete(name);
}

/** Fetching small pictures ahead, on the devices of those who unpack. */
import { device } from "./memory.ts";
import { photosHere } from "./photos.ts";
import { addressOf, PICTURES, picturesAhead, store } from "./pictures_ahead.ts";

const AT_ONCE = 4;

/** Which of these pictures could not be shown here with no network, by what is listed: no picture is read for it. */
export async function lackingPictures(digests: readonly string[]): Promise<string[]> {
  const [own, ahead] = await Promise.all([photosHere(), picturesAhead()]);
  return digests.filter((sha256) => !own.has(sha256) && !ahead.has(sha256));
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

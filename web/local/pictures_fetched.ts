/** Fetching small pictures ahead, on the devices of those who unpack. */
import { photosHere } from "./photos.ts";
import { addressOf, cacheOf, picturesAhead, store } from "./pictures_ahead.ts";

/** A small picture, and the day of the thing that it shows. */
export type Pictured = { sha256: string; day_id: string };

const AT_ONCE = 4;
/** What the office says of a picture that has not come yet, and of one whose file is gone. */
const NOT_AT_OFFICE: ReadonlySet<unknown> = new Set(["not_found", "photo_missing"]);

/** Which of these pictures could not be shown here with no network, by what is listed: no picture is read for it. */
export async function lackingPictures(digests: readonly string[]): Promise<string[]> {
  const [own, ahead] = await Promise.all([photosHere(), picturesAhead()]);
  return digests.filter((sha256) => !own.has(sha256) && !ahead.has(sha256));
}

/**
 * Fetch what is lacking, a few at once; `fetched` is told after each. What has not come to the office is passed over,
 * and its count is the answer. It ends with the first that fails otherwise, and what came before stays: asked again, it
 * goes on from there. Throws what `ask` throws.
 */
export async function fetchAhead(
  pictures: readonly Pictured[],
  ask: (address: string) => Promise<Response>,
  fetched: () => void,
): Promise<number> {
  const caches = store();
  if (!caches) return 0;
  let missing = 0;
  const lacking = new Set(await lackingPictures(pictures.map(({ sha256 }) => sha256)));
  const left = pictures.filter(({ sha256 }) => lacking.delete(sha256)); // each once, whatever shows it too
  const work = async () => {
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      const address = addressOf(next.sha256);
      const picture = await ask(address).catch((error: unknown) => {
        if (!NOT_AT_OFFICE.has((error as { code?: string }).code)) throw error;
        missing += 1;
      });
      if (!picture) continue;
      await (await caches.open(cacheOf(next.day_id))).put(address, picture);
      fetched();
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return missing;
}

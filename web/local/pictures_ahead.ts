/**
 * Small pictures that others took, fetched before the network goes: a store that unpacks with no network compares each
 * thing with them. They are copies of what the office has, so that they leave with their day and nobody counts on them.
 */

const PICTURES = "pictures ";

/** Where the pictures of the things of a day lie, so that they leave with it, whatever day is worked on by then. */
export const cacheOf = (day_id: string) => `${PICTURES}${day_id}`;

const FOLDER = "/photos/";

export const addressOf = (sha256: string) => `${FOLDER}${sha256}`;

/** A browser keeps no such copies where the page is not trusted; then they are shown from the office. */
export function store(): CacheStorage | null {
  return globalThis.caches ?? null;
}

/** A picture fetched before; null if this device has none. */
export async function pictureAhead(sha256: string): Promise<Blob | null> {
  return (await (await store()?.match(addressOf(sha256)))?.blob()) ?? null;
}

/** The digests of all pictures that were fetched before. */
export async function picturesAhead(): Promise<ReadonlySet<string>> {
  const here = new Set<string>();
  const names = (await store()?.keys()) ?? [];
  for (const name of names.filter((name) => name.startsWith(PICTURES)))
    for (const { url } of (await (await store()?.open(name))?.keys()) ?? [])
      here.add(url.slice(url.lastIndexOf(FOLDER) + FOLDER.length));
  return here;
}

/** Let go of the pictures of every day but these. */
export async function forgetPicturesBut(days: readonly string[]) {
  const stays = new Set(days.map(cacheOf));
  const names = (await store()?.keys()) ?? [];
  for (const name of names) if (name.startsWith(PICTURES) && !stays.has(name)) await store()?.delete(name);
}

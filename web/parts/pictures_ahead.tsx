/** How many pictures for comparing this device still needs before it is taken where there is no network. */

import { useEffect, useState } from "preact/hooks";
import { photosOf } from "../job/progress.ts";
import type { ItemRecord } from "../job/types.ts";
import { countWords, isOrAre } from "../job/words.ts";
import { fetchAhead, lackingPictures } from "../local/pictures_fetched.ts";
import { ask } from "../sync/office.ts";
import { attempt } from "./notices.tsx";

/** Of these items; each has its small pictures, from which what was unpacked is told from what was recorded. */
export function PicturesAhead({ items }: { items: ItemRecord[] }) {
  const pictures = items.flatMap((item) =>
    photosOf(item).map(({ value }) => ({ sha256: value.thumb_sha256, day_id: item.day_id })),
  );
  const digests = [...new Set(pictures.map(({ sha256 }) => sha256))];
  const [lacking, setLacking] = useState<number | null>(null);
  const [fetching, setFetching] = useState(false);
  const [elsewhere, setElsewhere] = useState(0);
  const key = digests.join();
  const look = () => lackingPictures(digests).then((missing) => setLacking(missing.length));
  useEffect(() => {
    look();
  }, [key]);
  const fetchAll = () =>
    attempt(async () => {
      setFetching(true);
      try {
        const missing = await fetchAhead(pictures, ask, () =>
          setLacking((count) => (count === null ? null : count - 1)),
        );
        setElsewhere(missing);
      } finally {
        setFetching(false);
        await look();
      }
    });
  if (lacking === null || !digests.length) return null;
  if (!lacking)
    return (
      <p class="hint">
        {digests.length === 1 ? "The picture" : `All ${digests.length} pictures`} for comparing can be seen
        here with no network.
      </p>
    );
  const isAllElsewhere = elsewhere > 0 && elsewhere === lacking;
  const again = isAllElsewhere ? "Look again for" : "Fetch";
  return (
    <p>
      {isAllElsewhere && !fetching && (
        <span class="hint">
          {countWords(elsewhere, "picture")} of them {isOrAre(elsewhere)} not at the office: still on the
          device that took {elsewhere === 1 ? "it" : "them"}. There is nothing to do here until then.{" "}
        </span>
      )}
      <button type="button" disabled={fetching} onClick={fetchAll}>
        {fetching
          ? `Fetching: ${countWords(lacking, "picture")} to come`
          : `${again} ${countWords(lacking, "picture")} for comparing with no network`}
      </button>
    </p>
  );
}

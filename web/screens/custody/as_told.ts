/** What holds what, asked of the office by a device that keeps no copy of the day: for as long as it shows. */
import { useEffect, useState } from "preact/hooks";
import { idsOfThing } from "../../job/doubles.ts";
import type { ContainerRecord, DayRecord, ItemRecord, RecordCopy } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { errorWords } from "../../job/words.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { get, mayPass } from "../../sync/office.ts";

export type Told = { days: DayRecord[]; items: ItemRecord[]; containers: ContainerRecord[] };

/** What the office tells at an address, again at news; before that in words why it is not here. */
export function useTold(address: string): Told | string {
  const [told, setTold] = useState<Told | string>("Asking …");
  const ask = useAskedAtNews(async () => {
    try {
      const { records } = await get<{ records: RecordCopy[] }>(address);
      setTold(byKind(besideEachOther(records)));
    } catch (error) {
      setTold((before) => (typeof before === "string" ? errorWords(error) : before));
      return !mayPass(error);
    }
    return true;
  });
  useEffect(ask, []);
  return told;
}

/** Each record with the others of the same thing beside it, as on a device that holds them. */
function besideEachOther(records: readonly RecordCopy[]): RecordCopy[] {
  const behind = new Map(
    records.flatMap((record) => {
      const into = fieldValue(record, "merged")?.into_id;
      return into ? [[record.record_id, into] as const] : [];
    }),
  );
  if (!behind.size) return [...records];
  const byId = new Map(records.map((record) => [record.record_id, record]));
  return records.map((record) => {
    const [, ...others] = idsOfThing(record.record_id, behind);
    const doubles = others.flatMap((id) => byId.get(id) ?? []);
    return doubles.length ? { ...record, doubles } : record;
  });
}

function byKind(records: readonly RecordCopy[]): Told {
  const of = <Kind extends RecordCopy["kind"]>(kind: Kind) =>
    records.filter((record): record is Extract<RecordCopy, { kind: Kind }> => record.kind === kind);
  return { days: of("day"), items: of("item"), containers: of("container") };
}

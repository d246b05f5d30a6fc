/** What a desk asks for by the news of a commit; it answers for what is on each of the screens in a file. */
import { readFileSync, writeSync } from "node:fs";
import { touchedBy } from "../../web/screens/cataloguing/desk_news.ts";

const given = JSON.parse(readFileSync(process.argv[2], "utf-8"));
const NONE_TOLD = { settlements: { cursor: 0, records: [] }, seen: null };
/** Settlements are no part of a list or an entry. */
const isShown = (key) => !key.startsWith("settlements ");
const askedBy = ({ news, shown }) => touchedBy(news, { ...NONE_TOLD, searched: shown.list, ...shown });
const answer = JSON.stringify(given.map((one) => askedBy(one).filter(isShown)));
for (let at = 0; at < answer.length; ) at += writeSync(1, answer.slice(at, at + 4096));

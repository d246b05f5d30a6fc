/** Whether a desk takes things for what its list was narrowed to; it answers for those in a file. */
import { readFileSync, writeSync } from "node:fs";
import { mayFit } from "../../web/job/narrowed.ts";

const given = JSON.parse(readFileSync(process.argv[2], "utf-8"));
writeSync(1, JSON.stringify(given.map(({ asked, marks }) => mayFit(asked, marks))));

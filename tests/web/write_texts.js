/** Every text that is printed of the items' records on standard input, for a person to read. */
import { readFileSync } from "node:fs";
import { textsToRead } from "./texts_to_read.js";

for (const item of JSON.parse(readFileSync(0, "utf-8"))) process.stdout.write(`${textsToRead(item)}\n\n`);

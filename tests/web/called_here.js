/** What the desk's list calls what it can be narrowed to, on its filters and on its rows. */
import { writeSync } from "node:fs";
import { LIST_STATES, ROW_WORDS, SEVERITY_WORDS, TROUBLES } from "../../web/job/queue_words.ts";

writeSync(1, JSON.stringify({ LIST_STATES, SEVERITY_WORDS, TROUBLES, ROW_WORDS }));

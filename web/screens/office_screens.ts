/**
 * The screens that set up a day and its devices, and the desk's, come as one piece: only devices of managers and of the
 * desk keep it (`parts/packs.ts`).
 */

import "./hall_screens.ts"; // every device keeps them: what these share with them is one file with theirs
import { addStyles } from "../parts/styles.ts";
import bars from "../styles/bars.css" with { type: "text" };
import desk from "../styles/desk.css" with { type: "text" };
import office from "../styles/office.css" with { type: "text" };
import words from "../styles/words.css" with { type: "text" };

addStyles(bars, desk, office, words);

export { default as Queue } from "./cataloguing/queue.tsx";
export { default as DayClosings } from "./custody/day_closings.tsx";
export { default as Copies } from "./office/copies.tsx";
export { default as Day } from "./office/day.tsx";
export { default as Devices } from "./office/devices.tsx";
export { default as Preflight } from "./office/preflight.tsx";
export { default as Rolls } from "./tagging/rolls.tsx";

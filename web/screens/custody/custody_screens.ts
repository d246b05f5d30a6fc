/**
 * What is carried away and what is missing at the end come as one piece: only devices of porters and managers keep it
 * (`parts/packs.ts`).
 */

import "../hall_screens.ts"; // every device keeps them: what these share with them is one file with theirs
import { addStyles } from "../../parts/styles.ts";
import bars from "../../styles/bars.css" with { type: "text" };
import closing from "../../styles/closing.css" with { type: "text" };

addStyles(bars, closing);

export { default as Closing } from "./closing.tsx";
export { default as Container } from "./container.tsx";
export { default as Load } from "./load.tsx";
export { default as Places } from "./places.tsx";

/**
 * What is carried away and what is missing at the end come as one piece: only devices of porters and managers keep it
 * (`parts/packs.ts`).
 */

import { addStyles } from "../../parts/styles.ts";
import bars from "../../styles/bars.css" with { type: "text" };
import closing from "../../styles/closing.css" with { type: "text" };

addStyles(bars, closing);

export { default as Closing } from "./closing.tsx";
export { default as Load } from "./load.tsx";
export { default as Places } from "./places.tsx";

/**
 * What makes sentences of a record comes as one piece: the item in words, and the words beside the walk. Devices of
 * those who stand at a thing keep it, once they are paired (`parts/packs.ts`); the desk's own piece has the same
 * sentences.
 */

import type { ScreensOf } from "./addresses.ts";
import "./hall_screens.ts"; // every device keeps them: what these share with them is one file with theirs
import { wordsSoFar } from "./screens/examination/so_far.ts";
import Words from "./screens/examination/words.tsx";
import { WordsSoFar } from "./screens/examination/words_so_far.tsx";

wordsSoFar.value = WordsSoFar;

export const SCREENS: ScreensOf<"words"> = { "item/words": Words };

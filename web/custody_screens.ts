/**
 * What is carried away and what is missing at the end come as one piece: only devices of porters and managers keep it
 * (`parts/packs.ts`).
 */

import type { ScreensOf } from "./addresses.ts";
import "./hall_screens.ts"; // every device keeps them: what these share with them is one file with theirs
import { addStyles } from "./parts/styles.ts";
import { arrivals } from "./screens/custody/arrivals.ts";
import Closing from "./screens/custody/closing.tsx";
import Container from "./screens/custody/container.tsx";
import ItemCheckIn from "./screens/custody/item_check_in.tsx";
import Load from "./screens/custody/load.tsx";
import Places from "./screens/custody/places.tsx";
import { ARRIVALS } from "./screens/custody/porter_coming.tsx";
import bars from "./styles/bars.css" with { type: "text" };
import closing from "./styles/closing.css" with { type: "text" };
import named from "./styles/named.css" with { type: "text" };

addStyles([bars, named, closing]);
arrivals.value = ARRIVALS;

export const SCREENS: ScreensOf<"custody"> = {
  closing: Closing,
  container: Container,
  "item/check-in": ItemCheckIn,
  load: Load,
  places: Places,
};

/**
 * The screens that set up a day and its devices, and the desk's, come as one piece: only devices of managers and of the
 * desk keep it (`parts/packs.ts`).
 */

import type { ScreensOf } from "./addresses.ts";
import "./hall_screens.ts"; // every device keeps them: what these share with them is one file with theirs
import { onToday } from "./parts/on_today.ts";
import { addStyles } from "./parts/styles.ts";
import Queue from "./screens/cataloguing/queue.tsx";
import DayClosings from "./screens/custody/day_closings.tsx";
import Copies from "./screens/office/copies.tsx";
import Day from "./screens/office/day.tsx";
import Devices from "./screens/office/devices.tsx";
import Preflight from "./screens/office/preflight.tsx";
import { ForManagers } from "./screens/office/today_manager.tsx";
import Rolls from "./screens/tagging/rolls.tsx";
import bars from "./styles/bars.css" with { type: "text" };
import desk from "./styles/desk.css" with { type: "text" };
import named from "./styles/named.css" with { type: "text" };
import office from "./styles/office.css" with { type: "text" };
import words from "./styles/words.css" with { type: "text" };

addStyles([bars, named, desk, office, words]);
onToday.value = ForManagers;

export const SCREENS: ScreensOf<"office"> = {
  closings: DayClosings,
  copies: Copies,
  day: Day,
  devices: Devices,
  preflight: Preflight,
  queue: Queue,
  rolls: Rolls,
};

/**
 * The screens of a day in the hall come as one piece, which every device keeps: compressed together they are a fifth
 * smaller than one by one. Much of it is read only when a screen is first drawn, so that no screen waits for the
 * others.
 */

import type { ScreensOf } from "./addresses.ts";
import "./app.tsx"; // it is open before any of these: what it shares with them is one file with its own

import Today from "./screens/arrival/today.tsx";
import Visit from "./screens/arrival/visit.tsx";
import Item from "./screens/examination/item.tsx";
import Photos from "./screens/examination/photos.tsx";
import Stop from "./screens/examination/stop.tsx";
import StopHere from "./screens/examination/stop_here.tsx";
import Zone from "./screens/examination/zone.tsx";
import Zones from "./screens/examination/zones.tsx";
import Outbox from "./screens/sync/outbox.tsx";
import Find from "./screens/tagging/find.tsx";
import Tag from "./screens/tagging/tag.tsx";

export const SCREENS: ScreensOf<"hall"> = {
  item: Item,
  "item/photos": Photos,
  "item/stop": Stop,
  "item/tag": Tag,
  "item/zone": Zone,
  "item/zones": Zones,
  outbox: Outbox,
  stop: StopHere,
  tag: Find,
  today: Today,
  visit: Visit,
};

/**
 * The screens of a day in the hall come as one piece, which every device keeps: compressed together they are a fifth
 * smaller than one by one. Much of it is read only when a screen is first drawn, so that no screen waits for the others.
 */

export { default as Today } from "./arrival/today.tsx";
export { default as Visit } from "./arrival/visit.tsx";
export { default as Porter } from "./custody/porter.tsx";
export { default as Receipt } from "./custody/receipt.tsx";
export { default as Item } from "./examination/item.tsx";
export { default as Marks } from "./examination/marks.tsx";
export { default as Photos } from "./examination/photos.tsx";
export { default as Stop } from "./examination/stop.tsx";
export { default as StopCards } from "./examination/stop_cards.tsx";
export { default as StopHere } from "./examination/stop_here.tsx";
export { default as Tried } from "./examination/tried.tsx";
export { default as Words } from "./examination/words.tsx";
export { default as Zone } from "./examination/zone.tsx";
export { default as Zones } from "./examination/zones.tsx";
export { default as Check } from "./office/check.tsx";
export { default as Outbox } from "./sync/outbox.tsx";
export { default as Find } from "./tagging/find.tsx";
export { default as Tag } from "./tagging/tag.tsx";

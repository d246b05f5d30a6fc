/**
 * The screens of one item come as one piece: whoever opens one of them opens the others within a minute. What is done at
 * a stop is looked up in the same cautions with an item and without one.
 */
export { default as Item } from "./item.tsx";
export { default as Marks } from "./marks.tsx";
export { default as Photos } from "./photos.tsx";
export { default as Stop } from "./stop.tsx";
export { default as StopCards } from "./stop_cards.tsx";
export { default as StopHere } from "./stop_here.tsx";
export { default as Tried } from "./tried.tsx";
export { default as Words } from "./words.tsx";
export { default as Zone } from "./zone.tsx";
export { default as Zones } from "./zones.tsx";

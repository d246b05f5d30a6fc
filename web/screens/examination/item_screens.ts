/** The screens of one item come as one piece: whoever opens one of them opens the others within a minute. */
export { default as Item } from "./item.tsx";
export { default as Marks } from "./marks.tsx";
export { default as Measures } from "./measures.tsx";
export { default as Photos } from "./photos.tsx";
export { default as Stop } from "./stop.tsx";
export { default as Words } from "./words.tsx";
export { default as Works } from "./works.tsx";
export { default as Zone } from "./zone.tsx";
export { default as Zones } from "./zones.tsx";

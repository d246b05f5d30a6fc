/** What the desk calls the ways in which its list can be narrowed. */
import { ENTRY_STATES } from "./words.ts";

/** Where a thing stands in the list: what went back to its owner, or was taken away, is nobody's work. */
export const LIST_STATES = [
  ...ENTRY_STATES,
  ["returned", "Back with owners"],
  ["taken-away", "Taken away"],
] as const;

/** Kinds of trouble, those that may hurt somebody first. */
export const TROUBLES = [
  ["alone", "Stopped, not decided"],
  ["stopped", "Stopped, decided or not"],
  ["held", "Held apart"],
  ["caution", "Any caution"],
  ["differs", "Differed at check-in"],
  ["absent", "Did not come"],
  ["apart", "Pieces apart"],
  ["deferred", "Put off to the store"],
  ["contested", "Two values"],
  ["changed", "Changed since described"],
  ["unsigned", "Not signed for"],
  ["otherwise", "Changed since signed"],
  ["untagged", "No tag"],
  ["unpictured", "No photo"],
  ["unnamed", "No name"],
] as const;

/** As a finding's severity is called, the gravest first. */
export const SEVERITY_WORDS = [
  ["4", "severe"],
  ["3", "serious"],
  ["2", "moderate"],
  ["1", "slight"],
  ["0", "none to speak of"],
  ["none", "none on record"],
] as const;

/** What a row says of itself where that is called otherwise than the way to narrow the list to it. */
export const ROW_WORDS = {
  returned: "back with its owner",
  "taken-away": "taken away",
  differs: "differed at check-in",
  apart: "its pieces are apart",
  changed: "changed since",
  unsigned: "not signed for",
  otherwise: "changed since signed",
  unpictured: "no picture",
  unnamed: "Not named yet",
} as const;

/** Questions to the table of kinds. */
import { KINDS, type KindSays } from "./kinds.ts";
import type { Kind } from "./operations.ts";

type Longest<K> = K extends { longest: infer Members } ? keyof Members & string : never;
/** A member of a kind that holds text, such as `record_finding.note`. */
export type TextOf = {
  [K in keyof typeof KINDS]: `${K}.${Longest<(typeof KINDS)[K]>}`;
}[keyof typeof KINDS];

/** How many characters the office takes in such a member. */
export function longestText(member: TextOf): number {
  const dot = member.indexOf(".");
  const says: KindSays = KINDS[member.slice(0, dot) as Kind];
  return says.longest?.[member.slice(dot + 1)] ?? 0;
}

/** The beginning of a text, as much of it as fits; no character is cut in half. */
export function beginning(text: string, most: number): string {
  return text.slice(0, most).replace(/[\ud800-\udbff]$/, "");
}

/** Whether a device of this role may make operations of a kind. */
export function mayMake(role: string, kind: Kind): boolean {
  const says: KindSays = KINDS[kind];
  return role === "manager" || says.roles.includes(role);
}

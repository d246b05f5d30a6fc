/** What people are called at a desk. */
import { namesOn, type Who } from "../../job/day_facts.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";

/**
 * Names by id: as the day's list has them, which comes anew as one is put right, else as the office told them with an
 * entry, whose own day may be long over.
 */
export function namesHere(day: DayRecord | null | undefined, told: Record<string, string> = {}): Who {
  const listedName = namesOn(day);
  return (person_id) => {
    const isListed = day && fieldValue(day, `people/${person_id}`);
    return isListed ? listedName(person_id) : (told[person_id] ?? listedName(person_id));
  };
}

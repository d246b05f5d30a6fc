/** Labels kept on this device, so that they can be printed with no network: the office's own PDF of a roll. */
import { remember, setting } from "./database.ts";
import { tell } from "./news.ts";

export async function keepLabels(roll_id: string, pdf: ArrayBuffer) {
  await remember(`labels ${roll_id}`, pdf);
  tell();
}

export async function labelsOf(roll_id: string): Promise<ArrayBuffer | null> {
  return (await setting(`labels ${roll_id}`)) ?? null;
}

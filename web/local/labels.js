/** Labels kept on this device, so that they can be printed with no network: the office's own PDF of a roll. */
import { remember, setting } from "./database.js";
import { tell } from "./news.js";

/** @param {string} roll_id @param {ArrayBuffer} pdf */
export async function keepLabels(roll_id, pdf) {
  await remember(`labels ${roll_id}`, pdf);
  tell();
}

/** @param {string} roll_id @returns {Promise<ArrayBuffer|null>} */
export async function labelsOf(roll_id) {
  return (await setting(`labels ${roll_id}`)) ?? null;
}

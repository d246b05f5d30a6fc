/** The few addresses that may run as scripts, through the one policy that the page allows. */

const OURS = new Set(["/sw.js"]);

/** @type {{createScriptURL: (address: string) => any}} */
const policy = /** @type {any} */ (globalThis).trustedTypes?.createPolicy("intake", {
  createScriptURL: (/** @type {string} */ address) => {
    if (!OURS.has(address)) throw new TypeError(`${address} is no script of this app.`);
    return address;
  },
}) ?? { createScriptURL: (/** @type {string} */ address) => address };

/** @param {string} address */
export function workerAddress(address) {
  return policy.createScriptURL(address);
}

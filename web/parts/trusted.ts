/** The few addresses that may run as scripts, through the one policy that the page allows. */

const OURS = new Set(["/sw.js"]);

/** Where a browser has trusted types, it takes the policy's word for the string that it wraps. */
type Policy = { createScriptURL: (address: string) => string };
type TrustedTypes = { createPolicy: (name: string, rules: Policy) => Policy };

const policy: Policy = (globalThis as { trustedTypes?: TrustedTypes }).trustedTypes?.createPolicy("intake", {
  createScriptURL: (address: string) => {
    if (!OURS.has(address)) throw new TypeError(`${address} is no script of this app.`);
    return address;
  },
}) ?? { createScriptURL: (address: string) => address };

export function workerAddress(address: string) {
  return policy.createScriptURL(address);
}

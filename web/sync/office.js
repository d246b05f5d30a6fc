/** Talking to the office: one request with a time limit, and its refusals as errors that carry words. */

/** What the office said no to, in its own words. */
export class OfficeSays extends Error {
  /** @param {number} status @param {{code?: string, detail?: string, hint?: string, title?: string}} problem */
  constructor(status, problem) {
    super(problem.detail ?? `The office answered ${status}.`);
    this.status = status;
    this.code = problem.code ?? "";
    this.hint = problem.hint ?? "";
    this.problem = problem;
  }
}

/**
 * @param {string} path @param {RequestInit & {limitMs?: number}} [options]
 * @returns {Promise<Response>} throws OfficeSays for a refusal, TypeError or DOMException with no connection
 */
export async function ask(path, { limitMs = 30_000, ...options } = {}) {
  const response = await fetch(path, { ...options, signal: AbortSignal.timeout(limitMs), credentials: "same-origin" });
  if (response.ok || response.status === 304) return response;
  const problem = await response.json().catch(() => ({}));
  throw new OfficeSays(response.status, problem);
}

/** @param {string} path @param {any} body */
export async function post(path, body) {
  const response = await ask(path, { method: "POST", body: JSON.stringify(body), headers: { "Content-Type": "application/json" } });
  return response.json();
}

/** @param {string} path */
export async function get(path) {
  return (await ask(path)).json();
}

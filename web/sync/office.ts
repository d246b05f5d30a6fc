/** Talking to the office: one request with a time limit, and its refusals as errors that carry words. */
import type { Problem } from "../job/types.ts";
import { device } from "../local/memory.ts";

/** What the office said no to, in its own words. */
export class OfficeSays extends Error {
  readonly status: number;
  readonly code: string;
  readonly hint: string;
  readonly problem: Partial<Problem>;

  constructor(status: number, problem: Partial<Problem>) {
    super(problem.detail ?? `The office answered ${status}.`);
    this.status = status;
    this.code = problem.code ?? "";
    this.hint = problem.hint ?? "";
    this.problem = problem;
  }
}

/** What one that was signed off asks all the same: how it stands, and what comes with sending and pairing again. */
const STANDING = /^\/(sync\/|health$|pairing$|pairing\/me$)/;

/**
 * One that was signed off asks for nobody's records, whatever screen it shows: an office put back from an older copy
 * may not know of it, and would tell them.
 */
function refuseIfOff(path: string, method = "GET") {
  const isSent = path.startsWith("/photos/") && method !== "GET";
  if (device.peek()?.revoked && !isSent && !STANDING.test(path))
    throw new OfficeSays(403, {
      code: "device_revoked",
      detail: "This device was taken off the office, and reads nothing there.",
      hint: "Pair it again.",
    });
}

/** Ask the office. Throws OfficeSays for a refusal, TypeError in words with no connection. */
export async function ask(
  path: string,
  { limitMs = 30_000, ...options }: RequestInit & { limitMs?: number } = {},
): Promise<Response> {
  refuseIfOff(path, options.method);
  const role = device.peek()?.role;
  const response = await fetch(path, {
    ...options,
    signal: AbortSignal.timeout(limitMs),
    credentials: "same-origin",
  }).catch(notReached);
  refuseIfOff(path, options.method); // it may have been signed off meanwhile
  if (role && device.peek()?.role !== role)
    throw new OfficeSays(403, {
      code: "other_work",
      detail: "This device was given other work while the office answered.",
      hint: "Open the screen again.",
    });
  if (response.ok || response.status === 304) return response;
  const problem = await response.json().catch(() => ({}));
  throw new OfficeSays(response.status, problem);
}

/** Whether what went wrong may go well the next time: nobody answered, or the office itself could not. */
export function mayPass(error: unknown) {
  return !(error instanceof OfficeSays) || error.status >= 500;
}

/** A person may read this: the browser's own words for it differ and say nothing. */
function notReached(cause: unknown): never {
  if (cause instanceof TypeError || cause instanceof DOMException)
    throw new TypeError("The office is not reached now. Come into its network and try again.", { cause });
  throw cause;
}

/** What the office answers to a body. The shape of an answer is the office's promise, and asked for by name. */
export function post<Answer>(path: string, body: unknown): Promise<Answer> {
  return send("POST", path, body);
}

export function put<Answer>(path: string, body: unknown): Promise<Answer> {
  return send("PUT", path, body);
}

async function send<Answer>(method: string, path: string, body: unknown): Promise<Answer> {
  const response = await ask(path, {
    method,
    body: JSON.stringify(body),
    headers: { "Content-Type": "application/json" },
  });
  return response.json();
}

export async function get<Answer>(path: string): Promise<Answer> {
  return (await ask(path)).json() as Promise<Answer>;
}

// Calls to the service this page comes from.
import { LANGUAGE, say } from "./words.js";

export const ADVICE = "/v1/openings/advice";
export const RECHECK = "/v1/openings/recheck";
export const HOUSE = "/v1/houses/advice";
export const HOUSE_RECHECK = "/v1/houses/recheck";

let key = "";

/** Send a key with every call from now on. It is kept nowhere else, and gone with the page. */
export function useKey(given) {
  key = given;
}

/** Whether calls are made with a key. */
export const isKeyed = () => key !== "";

const PATIENCE_MS = 30_000;
/** The language of what isn't said to be in another: problems, and what is looked up. */
export const WRITTEN_IN = "en";

/** Statuses after which the contract says that the same may be sent again. */
const PASSING = new Set([408, 429, 500, 502, 503, 504]);
const UNAUTHORIZED = 401;

/**
 * A refusal in the service's own words. lang: their language; errors: its fields at fault, each with pointer, code and
 * detail; passes: whether the same may be answered later; needsKey: whether it may be with a key, or with another.
 */
export class Refused extends Error {
  constructor(problem, status) {
    super(problem.detail ?? problem.title);
    this.lang = problem.lang ?? WRITTEN_IN;
    this.errors = problem.errors ?? [];
    this.passes = PASSING.has(status);
    this.needsKey = status === UNAUTHORIZED;
  }
}

/** No answer, or none of the service's: it or the network is down, it took too long, or something between them answered. */
export class Unreachable extends Error {
  passes = true;
}

/** The JSON object at an address, with the language of its prose as `lang`. */
export async function look(path, signal) {
  const reply = await send(path, { headers: { Accept: "application/json" }, signal });
  return { ...(await answerOf(reply, signal)), lang: reply.headers.get("Content-Language") ?? WRITTEN_IN };
}

/** The reply to a body in the media type wanted. */
export function ask(call, body, accept, signal) {
  return send(call, { method: "POST", body, headers: { Accept: accept, "Content-Type": "application/json" }, signal });
}

/** The JSON object of a reply that isn't a refusal. signal: as it was asked with. */
export async function answerOf(reply, signal) {
  try {
    return await reply.json();
  } catch (fault) {
    if (signal?.aborted) throw fault;
    throw new Unreachable(say(fault instanceof SyntaxError ? "status.unreadable" : "status.unreachable"), { cause: fault });
  }
}

async function send(path, { headers, signal, ...rest }) {
  const patience = AbortSignal.timeout(PATIENCE_MS);
  const either = signal ? AbortSignal.any([signal, patience]) : patience;
  const own = { "Accept-Language": LANGUAGE, ...(isKeyed() && { Authorization: `Bearer ${key}` }) };
  const reply = await reached(path, { ...rest, headers: { ...headers, ...own }, signal: either }, signal);
  if (!reply.ok) throw new Refused(await problemOf(reply), reply.status);
  return reply;
}

async function reached(path, options, signal) {
  try {
    return await fetch(path, options);
  } catch (fault) {
    if (signal?.aborted) throw fault;
    throw new Unreachable(say("status.unreachable"), { cause: fault });
  }
}

async function problemOf(reply) {
  const problem = await reply.json().catch(() => null);
  return problem?.title ? problem : { title: say("status.failed", { status: reply.status }), lang: LANGUAGE };
}

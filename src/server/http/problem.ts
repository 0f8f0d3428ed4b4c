// Owns what the server answers when it refuses: problem details after RFC 9457, with the mend beside the fault.

import type { Context } from "hono";
import { HTTPException } from "hono/http-exception";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { type FaultCode, StoreFault } from "../../store/index.ts";
import { type Mend, sayReason, type Wrong } from "../refusals.ts";

/** A refusal on its way to whoever asked; thrown by routes and what they call, made into an answer in one place. */
export class Problem extends Error {
  override readonly name = "Problem";
  readonly status: ContentfulStatusCode;
  /** A word of ours, the end of the problem's type. */
  readonly kind: string;
  readonly what: Wrong;
  readonly mend: Mend;
  /** Members of the answer beside those of the RFC. */
  readonly more: Readonly<Record<string, unknown>>;

  constructor(
    status: ContentfulStatusCode,
    kind: string,
    what: Wrong,
    mend: Mend,
    more: Readonly<Record<string, unknown>> = {},
  ) {
    super(`${sayReason(what)}. ${sayReason(mend)}`);
    this.status = status;
    this.kind = kind;
    this.what = what;
    this.mend = mend;
    this.more = more;
  }
}

export const badRequest = (what: Wrong, mend: Mend, more?: Readonly<Record<string, unknown>>): Problem =>
  new Problem(400, "bad-request", what, mend, more);
export const notFound = (what: Wrong, mend: Mend): Problem => new Problem(404, "not-found", what, mend);
export const forbidden = (what: Wrong, mend: Mend): Problem => new Problem(403, "not-allowed", what, mend);
export const signInFirst = (): Problem => new Problem(401, "sign-in", ["notSignedIn"], ["signInThenAsk"]);

/** What a store's fault is on the wire. Whatever may pass by itself is a 503, so that a client asks again. */
const STATUS: Readonly<Record<FaultCode, ContentfulStatusCode>> = {
  unknown: 404,
  clash: 409,
  stale: 412,
  closed: 409,
  "not-empty": 409,
  "last-steward": 409,
  photo: 415,
  voice: 415,
  full: 507,
  "read-only": 503,
  busy: 503,
  gone: 503,
  damaged: 500,
  newer: 500,
  older: 500,
};

/** What a store's fault is in the server's phrases: it says itself what there is, and the phrase of what kind that is. */
const phraseOf = ({ code, what }: StoreFault): Wrong => {
  switch (code) {
    case "unknown":
      return ["notKept", what];
    case "clash":
    case "not-empty":
      return ["taken", what];
    case "stale":
      return ["changedSince"];
    case "closed":
      return ["keptClosed", what];
    case "photo":
      return ["noPhoto", what];
    case "voice":
      return ["noVoice", what];
    case "full":
      return ["storeFull", what];
    case "read-only":
      return ["storeReadOnly", what];
    case "busy":
      return ["storeBusy", what];
    case "gone":
      return ["storeGone", what];
    case "last-steward":
      return ["lastSteward"];
    case "damaged":
    case "newer":
    case "older":
      return ["storeUnfit", what];
  }
};

/** What would mend it: as the store says it in English, by its kind in other languages. */
const mendOf = ({ code, mend }: StoreFault): Mend => {
  switch (code) {
    case "unknown":
      return ["lookForIt", mend];
    case "clash":
    case "not-empty":
      return ["ownOne", mend];
    case "closed":
      return ["anotherOrder"];
    case "photo":
      return ["asPicture", mend];
    case "voice":
      return ["asSound", mend];
    case "stale":
      return ["readThenChange"];
    case "busy":
      return ["tryAgain"];
    case "full":
      return ["makeRoom"];
    case "last-steward":
      return ["makeAnotherSteward"];
    case "read-only":
    case "gone":
    case "damaged":
    case "newer":
    case "older":
      return ["keeperSees", mend];
  }
};

/** Any error as a problem; one that nobody foresaw says nothing of its inside. */
export const problemOf = (error: unknown): Problem => {
  if (error instanceof Problem) return error;
  if (error instanceof StoreFault) {
    const status = STATUS[error.code];
    return new Problem(status, error.code, phraseOf(error), mendOf(error), {
      at: error.at,
    });
  }
  // The framework's own refusals: a body that is no JSON, or of a type that the route does not take.
  if (error instanceof HTTPException && error.status < 500)
    return new Problem(
      error.status as ContentfulStatusCode,
      error.status === 415 ? "type" : "bad-request",
      ["notAsDescribed", error.message],
      ["seeDescription"],
    );
  return new Problem(500, "fault", ["ownFault"], ["seeLog"]);
};

/** A problem as it is said: what, the mend, both as phrases for other languages, and what more belongs to it. */
export const sayProblem = ({ status, kind, what, mend, more }: Problem): Readonly<Record<string, unknown>> => {
  const [title, way] = [sayReason(what), sayReason(mend)];
  const said = { title, status, detail: `${title}. ${way}`, mend: way, phrases: [what, mend] };
  return { type: `/problems/${kind}`, ...said, ...more };
};

/** The answer of a problem. */
export const answerProblem = (c: Context, problem: Problem): Response => {
  const { status, more } = problem;
  const { after = 2 } = more;
  return c.body(JSON.stringify(sayProblem(problem)), status, {
    "content-type": "application/problem+json",
    ...(status === 503 || status === 429 ? { "retry-after": String(after) } : {}),
  });
};

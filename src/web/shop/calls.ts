// Owns the calls to the server: what it says, and its refusals as something that can be shown.

import type { Reason } from "../../server/index.ts";

/** Why something is not done, in English as the server says it. */
export interface Said {
  readonly what: string;
  readonly mend: string;
  /** The same as data: what, and what would mend it. */
  readonly phrases?: readonly [what: Reason, mend: Reason] | undefined;
}

/** A refusal of the server, or that there is none to be reached. */
export class Refusal extends Error implements Said {
  override readonly name = "Refusal";
  /** 0 where the server was not reached. */
  readonly status: number;
  readonly what: string;
  readonly mend: string;
  readonly more: Readonly<Record<string, unknown>>;

  constructor(
    status: number,
    what: string,
    mend: string,
    more: Readonly<Record<string, unknown>> = {},
    options?: ErrorOptions,
  ) {
    super(`${what}. ${mend}`, options);
    this.status = status;
    this.what = what;
    this.mend = mend;
    this.more = more;
  }

  get phrases(): Said["phrases"] {
    return this.more.phrases as Said["phrases"];
  }
}

export interface Reply<T> {
  readonly status: number;
  readonly body: T;
  readonly etag: string | undefined;
}

let heard = 0;
/** When the server last answered anything, milliseconds since 1970: since then it counts a session's idle time. */
export const lastHeard = (): number => heard;

/** @param body sent as JSON; a photo as it is. @throws Refusal */
export const call = async <T>(
  method: "GET" | "PUT" | "POST" | "DELETE",
  path: string,
  body?: unknown,
  headers: Readonly<Record<string, string>> = {},
  signal?: AbortSignal,
): Promise<Reply<T>> => {
  let answer: Response;
  try {
    answer = await fetch(`/api${path}`, {
      method,
      headers:
        body === undefined || body instanceof Blob ? headers : { "content-type": "application/json", ...headers },
      ...(body === undefined ? {} : { body: body instanceof Blob ? body : JSON.stringify(body) }),
      ...(signal === undefined ? {} : { signal }),
    });
  } catch (error) {
    if (signal?.aborted === true) throw error;
    throw unreached(error);
  }
  heard = Date.now();
  const text = await answer.text();
  const said = readJson(text);
  if (answer.ok) return { status: answer.status, body: said as T, etag: answer.headers.get("etag") ?? undefined };
  throw refusalFrom(answer.status, said);
};

/** @param said problem details, where the server said any */
export const refusalFrom = (status: number, said: unknown): Refusal => {
  const { title, mend, ...more } = (said ?? {}) as { title?: string; mend?: string };
  return new Refusal(status, title ?? "", mend ?? "", more);
};

/** That the server could not be reached. */
export const unreached = (cause: unknown): Refusal =>
  new Refusal(0, "the server is not reachable", "See whether it runs, and the network.", {}, { cause });

export const readJson = (text: string): unknown => {
  try {
    return text === "" ? undefined : JSON.parse(text);
  } catch {
    return undefined;
  }
};

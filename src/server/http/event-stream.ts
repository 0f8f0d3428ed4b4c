// Owns a stream of server-sent events: its headers, who is too many, and its end when the client goes or the server stops.

import type { Context } from "hono";
import { stream } from "hono/streaming";
import { Problem } from "./problem.ts";

/** Milliseconds after which a line without meaning is sent: a broken connection is found out, and what stands between keeps it open. */
export const BEAT = 15_000;

/** How many listen now. */
export interface Listening {
  count: number;
}

export interface Out {
  write(text: string): Promise<unknown>;
}

/**
 * Answers with what `send` writes until it ends.
 * @param most listeners of one process
 * @param send is told by `gone` when nobody reads it any more
 * @throws Problem 503 where as many listen already
 */
export const eventStream = (
  c: Context,
  {
    listening,
    most,
    stopping,
  }: { readonly listening: Listening; readonly most: number; readonly stopping: AbortSignal },
  send: (out: Out, gone: AbortSignal) => Promise<void>,
): Response => {
  if (listening.count >= most) throw new Problem(503, "too-many", ["tooManyListen", most], ["tryAgain"]);
  c.header("content-type", "text/event-stream; charset=utf-8");
  c.header("cache-control", "no-store");
  c.header("x-accel-buffering", "no");
  return stream(c, async (out) => {
    const gone = new AbortController();
    const end = () => gone.abort();
    out.onAbort(end);
    stopping.addEventListener("abort", end);
    listening.count++;
    try {
      await out.write("retry: 1000\n\n");
      if (!stopping.aborted) await send(out, gone.signal);
    } finally {
      listening.count--;
      stopping.removeEventListener("abort", end);
    }
  });
};

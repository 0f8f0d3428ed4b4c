// Owns the news of all runs that somebody may see: which of them has more, as server-sent events, for a screen that shows them all.

import type { OpenAPIHono } from "@hono/zod-openapi";
import { BEAT, eventStream, type Listening } from "./event-stream.ts";
import type { Office } from "./office.ts";
import { refusals, streamOf } from "./shapes.ts";
import { type Carried, has, someone } from "./who.ts";

/** Milliseconds in which the news of one run are told once. */
const TOGETHER = 500;
/** Listeners of one process. */
const MOST = 200;

export const newsRoute = (app: OpenAPIHono<Carried>, office: Office, listening: Listening): void => {
  app.openAPIRegistry.registerPath({
    method: "get",
    path: "/live",
    summary: "Which of the runs of one's sites has news, as server-sent events",
    responses: {
      200: streamOf(
        "`event` is `run`, `data` its id. What was missed is not told again: ask for the runs when it opens.",
      ),
      ...refusals,
    },
  });
  app.get("/live", (c) => {
    const who = someone(c.var.who);
    return eventStream(c, { listening, most: MOST, stopping: office.stopping }, async (out, gone) => {
      const fresh = new Set<string>();
      let wake: () => void = () => undefined;
      const unhear = office.desks.hear((run) => {
        fresh.add(run);
        wake();
      });
      try {
        while (!gone.aborted) {
          if (fresh.size === 0) await rest(BEAT, gone, (woken) => (wake = woken));
          if (fresh.size === 0) {
            await out.write(": still here\n\n");
            continue;
          }
          await rest(TOGETHER, gone, () => undefined);
          const runs = [...fresh];
          fresh.clear();
          for (const run of runs) {
            const site = await office.desks.siteOf(run).catch(() => undefined);
            if (site !== undefined && has(who, site)) await out.write(`event: run\ndata: ${JSON.stringify(run)}\n\n`);
          }
        }
      } finally {
        unhear();
      }
    });
  });
};

/** Ends after so many milliseconds, when nobody reads any more, or when it is woken. */
const rest = (milliseconds: number, gone: AbortSignal, waker: (woken: () => void) => void): Promise<void> =>
  new Promise((resolve) => {
    const done = () => {
      clearTimeout(timer);
      gone.removeEventListener("abort", done);
      resolve();
    };
    const timer = setTimeout(done, milliseconds);
    gone.addEventListener("abort", done);
    waker(done);
  });

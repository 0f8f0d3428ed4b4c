// Owns live updates: the entries of a run as server-sent events, each once and without gap from the position a client says it has.

import { setTimeout as pause } from "node:timers/promises";
import { type OpenAPIHono, z } from "@hono/zod-openapi";
import type { Context } from "hono";
import { BEAT, eventStream, type Listening } from "./event-stream.ts";
import type { Office } from "./office.ts";
import { badRequest, notFound } from "./problem.ts";
import { idShape, refusals, streamOf } from "./shapes.ts";
import { type Carried, has, someone } from "./who.ts";

/** Entries sent at once: a slow client is waited for between two lots, and nothing is heaped up for it. */
const LOT = 200;
/** Milliseconds before a store that is away is asked again. */
const AGAIN = 1_000;
/** Listeners of one process. */
const MOST = 1000;

export const liveRoute = (app: OpenAPIHono<Carried>, office: Office, listening: Listening): void => {
  // Described by hand: a stream is no answer that the description's own routes could check.
  app.openAPIRegistry.registerPath({
    method: "get",
    path: "/runs/{run}/live",
    summary: "Follow a run: every entry as a server-sent event, each once and without gap",
    request: {
      params: z.object({ run: idShape }),
      query: z.object({ behind: z.int().min(0).optional().describe("The position that one has, at the first call.") }),
      headers: z.object({ "last-event-id": z.string().optional().describe("The same, when one comes back.") }),
    },
    responses: {
      200: streamOf("`id` is the position, `event` is `entry`, `data` the entry as it was signed."),
      ...refusals,
    },
  });
  app.get("/runs/:run/live", async (c) => {
    const who = someone(c.var.who);
    const id = idShape.safeParse(c.req.param("run")).data ?? "";
    const run = await office.store.run(id);
    if (run === undefined || !has(who, run.site)) throw notFound(["noRun", ""], ["seeRuns"]);
    const from = positionAsked(c);
    await office.desks.at(id);
    return eventStream(c, { listening, most: MOST, stopping: office.stopping }, async (out, gone) => {
      let last = from;
      while (!gone.aborted) {
        const desk = await office.desks.at(id).catch(() => undefined);
        if (desk === undefined) {
          // The store is away; whoever follows waits with it, and misses nothing.
          await pause(AGAIN, undefined, { signal: gone }).catch(() => undefined);
          await out.write(": the store is away\n\n");
          continue;
        }
        const fresh = desk.behind(last, LOT);
        if (fresh.length === 0) {
          const before = performance.now();
          await office.desks.news(id, BEAT, gone);
          if (performance.now() - before >= BEAT) await out.write(": still here\n\n");
          continue;
        }
        // An entry's text is canonical JSON, in one line.
        await out.write(fresh.map(({ position, text }) => `id: ${position}\nevent: entry\ndata: ${text}\n\n`).join(""));
        last = fresh.at(-1)?.position ?? last;
      }
    });
  });
};

/** Behind which position: as the browser says when it comes again, or as the address says. */
const positionAsked = (c: Context): number => {
  const asked = c.req.header("last-event-id") ?? c.req.query("behind") ?? "0";
  if (!/^\d{1,9}$/.test(asked)) throw badRequest(["badPosition"], ["leaveOutPosition"]);
  return Number(asked);
};

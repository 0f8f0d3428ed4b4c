// Owns the routes of questions: asked, followed by waiting or by events, cancelled.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { KeptQuestion } from "../../store/index.ts";
import { BEAT, eventStream, type Listening } from "../http/event-stream.ts";
import { forbidden, notFound } from "../http/problem.ts";
import { newRoutes } from "../http/routes.ts";
import { answer, body, digestShape, refusals, revisionTag, streamOf } from "../http/shapes.ts";
import { type Carried, someone, type Who } from "../http/who.ts";
import { questionShape, toldShape, type Wanted } from "./body.ts";
import { hasEnded } from "./desk.ts";
import type { Questions } from "./questions.ts";
import { standingOf, writeStanding } from "./standing.ts";

/** Seconds that a request may wait: less than what stands between lets a connection be silent. */
const MOST_WAIT = 25;
/** Listeners of one process. */
const MOST_LISTENERS = 500;

const ofQuestion = z.object({ digest: digestShape });

/** @param stopping aborted when the server is to stop: who waits is answered with what there is */
export const questionRoutes = (questions: Questions, stopping: AbortSignal): OpenAPIHono<Carried> => {
  const app = newRoutes();
  const listening: Listening = { count: 0 };

  const there = (question: KeptQuestion | undefined): KeptQuestion => {
    if (question === undefined) throw notFound(["noQuestion"], ["askIt"]);
    return question;
  };

  app.openapi(
    createRoute({
      method: "post",
      path: "/questions",
      summary: "Ask for a long computation; the same question is one, whoever asks it",
      request: body(questionShape),
      responses: {
        200: answer(toldShape, "It has been answered before: the answer is at its place."),
        202: answer(toldShape, "It waits, or is being computed; follow it at its place."),
        ...refusals,
      },
    }),
    async (c) => {
      const { person } = someone(c.var.who);
      const { kind, body, model } = c.req.valid("json");
      // The description gives each kind its own body; the compiler does not see that the two still go together.
      const { digest } = await questions.ask({ kind, body } as Wanted, model, person);
      const question = there(await questions.get(digest));
      return c.json(standingOf(question), hasEnded(question) ? 200 : 202, {
        location: `/api/questions/${digest}`,
        etag: revisionTag(question.revision),
      });
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/questions/{digest}",
      summary: "How a question stands, and its answer",
      request: {
        params: ofQuestion,
        query: z.object({
          wait: z.coerce
            .number()
            .min(0)
            .max(MOST_WAIT)
            .default(0)
            .openapi({ type: "number" })
            .describe("Seconds to wait for its end; with If-None-Match, for its next change."),
        }),
        headers: z.object({ "if-none-match": z.string().max(50).optional() }),
      },
      responses: {
        200: answer(toldShape, "As it stands."),
        304: { description: "As it was." },
        ...refusals,
      },
    }),
    async (c) => {
      someone(c.var.who);
      const { digest } = c.req.valid("param");
      const tag = c.req.header("if-none-match");
      const isNews = (one: KeptQuestion) => hasEnded(one) || (tag !== undefined && tag !== revisionTag(one.revision));
      const ms = c.req.valid("query").wait * 1000;
      const signal = AbortSignal.any([stopping, c.req.raw.signal]);
      const question = there(await (ms === 0 ? questions.get(digest) : questions.wait(digest, ms, signal, isNews)));
      const etag = revisionTag(question.revision);
      if (tag === etag) return c.body(null, 304, { etag });
      return c.body(writeStanding(question), 200, { etag, "content-type": "application/json" });
    },
  );

  app.openapi(
    createRoute({
      method: "delete",
      path: "/questions/{digest}",
      summary: "Cancel a question that waits or is being computed",
      request: { params: ofQuestion },
      responses: { 200: answer(toldShape, "As it stands: what had ended before stays as it was."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { digest } = c.req.valid("param");
      const question = there(await questions.get(digest));
      if (!hasEnded(question) && !mayCancel(who, question)) throw forbidden(["questionOfOther"], ["heCancels"]);
      await questions.cancel(digest);
      const now = there(await questions.get(digest));
      return c.json(standingOf(now), 200, { etag: revisionTag(now.revision) });
    },
  );

  app.openAPIRegistry.registerPath({
    method: "get",
    path: "/questions/{digest}/live",
    summary: "Follow a question to its end",
    request: { params: ofQuestion, headers: z.object({ "last-event-id": z.string().optional() }) },
    responses: {
      200: streamOf("`id` is the revision, `event` is `standing`, `data` how it stands."),
      204: { description: "Its end was told before." },
      ...refusals,
    },
  });
  app.get("/questions/:digest/live", async (c) => {
    someone(c.var.who);
    const digest = digestShape.safeParse(c.req.param("digest")).data ?? "";
    const first = there(await questions.get(digest));
    const seen = c.req.header("last-event-id");
    // Its end was told: this answer alone keeps a browser from coming again.
    if (hasEnded(first) && seen === String(first.revision)) return c.body(null, 204);
    return eventStream(c, { listening, most: MOST_LISTENERS, stopping }, async (out, gone) => {
      let last = seen;
      while (!gone.aborted) {
        const isNews = (one: KeptQuestion) => hasEnded(one) || String(one.revision) !== last;
        const question = await questions.wait(digest, BEAT, gone, isNews);
        if (question === undefined) return;
        if (String(question.revision) === last) await out.write(": still here\n\n");
        else
          await out.write(
            `id: ${question.revision}\nevent: standing\ndata: ${JSON.stringify(standingOf(question))}\n\n`,
          );
        last = String(question.revision);
        if (hasEnded(question)) return;
      }
    });
  });

  return app;
};

/** Several may wait for one question: only who asked it first takes it from them, or whoever answers for the work. */
const mayCancel = (who: Who, { by }: KeptQuestion): boolean =>
  by === who.person || who.steward || [...who.sites.values()].some((roles) => roles.includes("foreman"));

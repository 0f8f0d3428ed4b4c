// Owns the routes of the job pack: the plan of an order on paper, whole or in part, and as a web page.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { SHEETS } from "../../paper/index.ts";
import type { OrderBody, PlanBody } from "../order.ts";
import type { Printed } from "../print-task.ts";
import type { Print } from "../printing.ts";
import type { Office } from "./office.ts";
import { notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { idShape, refusals } from "./shapes.ts";
import { type Carried, has, someone, type Who } from "./who.ts";

/** Sheets of an order; those of a run are its own pages. */
const OF_ORDER = SHEETS.filter((kind) => kind !== "shift" && kind !== "record");

const query = z.object({
  lang: z.enum(["en", "de"]).default("en"),
  paper: z.enum(["a4", "letter"]).default("a4"),
  only: z.enum(OF_ORDER).optional().openapi({ description: "This sheet alone." }),
  person: idShape.optional().openapi({
    description:
      "The card of this person alone: of a run under way what is left of the plan in force, else by the schedule of the order's crew.",
  }),
});

export const packRoutes = ({ store, desks, world }: Office, print: Print): OpenAPIHono<Carried> => {
  const app = newRoutes();
  const made = async (
    who: Who,
    id: string,
    { lang, paper, only, person }: z.infer<typeof query>,
    form: "pdf" | "html",
    url: string,
  ): Promise<Exclude<Printed, { readonly faults: unknown }>> => {
    const order = (await store.order(id))?.value;
    if (order === undefined || !has(who, order.site)) throw notFound(["noOrder", id], ["seeList"]);
    const run = await store.run(id);
    const desk = run === undefined ? undefined : await desks.at(id);
    const inForce = desk?.brief.plan ?? `${id}.p1`;
    const plan = (await store.plan(inForce))?.body as PlanBody | undefined;
    const vehicle = await store.vehicle(order.vehicle, order.version);
    if (plan === undefined || vehicle === undefined) throw notFound(["noPlanYet", id], ["orderAgain"]);
    const printed = await print({
      files: vehicle.files,
      plan: plan.plan,
      order: id,
      isRun: run !== undefined,
      version: order.version,
      lang,
      paper,
      form,
      ...(only === undefined ? {} : { only: [only] }),
      ...(person === undefined
        ? {}
        : {
            forPerson: {
              id: person,
              body: order.body as OrderBody,
              ...(run === undefined || desk === undefined
                ? {}
                : { run: { brief: desk.brief, entries: desk.told.map(({ entry }) => entry), opened: run.opened } }),
            },
          }),
      origin: new URL(url).origin,
      made: world.now(),
    });
    if (!("faults" in printed)) return printed;
    const [fault] = printed.faults;
    throw new Problem(409, "not-printable", ["notPrintable", fault?.what ?? ""], ["asItSays", fault?.mend ?? ""]);
  };
  app.openapi(
    createRoute({
      method: "get",
      path: "/orders/{order}/pack.pdf",
      summary: "The job pack of an order: the plan in force on paper, its tags with addresses of this server",
      request: { params: z.object({ order: idShape }), query },
      responses: {
        200: {
          description: "PDF, tagged, for A4 or Letter.",
          content: { "application/pdf": { schema: z.string().openapi({ format: "binary" }) } },
        },
        ...refusals,
      },
    }),
    async (c) => {
      const { order: id } = c.req.valid("param");
      const printed = await made(someone(c.var.who), id, c.req.valid("query"), "pdf", c.req.url);
      return c.body("pdf" in printed ? printed.pdf : "", 200, {
        "content-type": "application/pdf",
        "content-disposition": `inline; filename="${id.replace(/[^\w.-]/g, "-")}.pdf"`,
      });
    },
  );
  app.openapi(
    createRoute({
      method: "get",
      path: "/orders/{order}/pack.html",
      summary: "The job pack of an order as a web page, for screen readers",
      request: { params: z.object({ order: idShape }), query },
      responses: {
        200: { description: "HTML, one page without a script.", content: { "text/html": { schema: z.string() } } },
        ...refusals,
      },
    }),
    async (c) => {
      const { order: id } = c.req.valid("param");
      const printed = await made(someone(c.var.who), id, c.req.valid("query"), "html", c.req.url);
      return c.html("html" in printed ? printed.html : "", 200);
    },
  );
  return app;
};

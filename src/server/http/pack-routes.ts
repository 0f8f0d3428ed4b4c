// Owns the route of the job pack: the plan of an order on paper.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { PlanBody } from "../order.ts";
import type { Print } from "../printing.ts";
import type { Office } from "./office.ts";
import { notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { idShape, refusals } from "./shapes.ts";
import { type Carried, has, someone } from "./who.ts";

export const packRoutes = ({ store, desks, world }: Office, print: Print): OpenAPIHono<Carried> => {
  const app = newRoutes();
  app.openapi(
    createRoute({
      method: "get",
      path: "/orders/{order}/pack.pdf",
      summary: "The job pack of an order: the plan in force on paper, its tags with addresses of this server",
      request: {
        params: z.object({ order: idShape }),
        query: z.object({ lang: z.enum(["en", "de"]).default("en"), paper: z.enum(["a4", "letter"]).default("a4") }),
      },
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
      const { lang, paper } = c.req.valid("query");
      const who = someone(c.var.who);
      const order = (await store.order(id))?.value;
      if (order === undefined || !has(who, order.site)) throw notFound(`there is no order ${id}`, "See the list.");
      const isRun = (await store.run(id)) !== undefined;
      const inForce = isRun ? (await desks.at(id)).brief.plan : `${id}.p1`;
      const plan = (await store.plan(inForce))?.body as PlanBody | undefined;
      const vehicle = await store.vehicle(order.vehicle, order.version);
      if (plan === undefined || vehicle === undefined)
        throw notFound(`the order ${id} has no plan yet`, "Give the order again.");
      const printed = await print({
        files: vehicle.files,
        plan: plan.plan,
        order: id,
        isRun,
        version: order.version,
        lang,
        paper,
        origin: new URL(c.req.url).origin,
        made: world.now(),
      });
      if ("faults" in printed) {
        const [fault] = printed.faults;
        throw new Problem(409, "not-printable", fault?.what ?? "it cannot be printed", fault?.mend ?? "");
      }
      return c.body(printed.pdf, 200, {
        "content-type": "application/pdf",
        "content-disposition": `inline; filename="${id.replace(/[^\w.-]/g, "-")}.pdf"`,
      });
    },
  );
  return app;
};

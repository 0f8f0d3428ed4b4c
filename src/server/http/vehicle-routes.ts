// Owns the routes of vehicle files: every version that was kept, and the next one where it is sound.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { sentence } from "../../vehicle/index.ts";
import { saidFirst } from "../refusals.ts";
import type { Office } from "./office.ts";
import { forbidden, notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { answer, body, idShape, momentShape, refusals } from "./shapes.ts";
import { type Carried, someone } from "./who.ts";

const fileShape = z.strictObject({
  path: z
    .string()
    .regex(/^(?!\/)(?!.*(^|\/)\.\.?(\/|$))[^\\\0]{1,200}$/, "a path inside the vehicle's own folder, without . or ..")
    .describe("As other files name it under `include`."),
  text: z.string().max(8_000_000),
});

const versionShape = z
  .strictObject({
    vehicle: z.string(),
    version: z.int(),
    digest: z.string().describe("SHA-256 of paths and texts."),
    at: momentShape,
    by: z.string(),
  })
  .openapi("VehicleVersion");

const ofVehicle = z.object({ vehicle: idShape });

export const vehicleRoutes = ({ store, world, planning }: Office): OpenAPIHono<Carried> => {
  const app = newRoutes();

  app.openapi(
    createRoute({
      method: "get",
      path: "/vehicles",
      summary: "Every vehicle with its latest version",
      responses: {
        200: answer(z.strictObject({ vehicles: z.array(versionShape) }), "Without the files."),
        ...refusals,
      },
    }),
    async (c) => {
      someone(c.var.who);
      return c.json({ vehicles: await store.vehicles() }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/vehicles/{vehicle}",
      summary: "A vehicle's files, letter for letter",
      request: { params: ofVehicle, query: z.object({ version: z.coerce.number().int().min(1).optional() }) },
      responses: {
        200: answer(versionShape.extend({ files: z.array(fileShape) }), "The latest version, or the one asked for."),
        304: { description: "As it was: a version never changes." },
        ...refusals,
      },
    }),
    async (c) => {
      someone(c.var.who);
      const { vehicle } = c.req.valid("param");
      const { version } = c.req.valid("query");
      const kept = await store.vehicle(vehicle, version);
      if (kept === undefined)
        throw notFound(version === undefined ? ["noVehicle", vehicle] : ["noVehicleVersion", vehicle, version], [
          "seeList",
        ]);
      const tag = `"v${kept.version}"`;
      return c.req.header("if-none-match") === tag ? c.body(null, 304) : c.json(kept, 200, { etag: tag });
    },
  );

  app.openapi(
    createRoute({
      method: "put",
      path: "/vehicles/{vehicle}",
      summary: "Keep a vehicle's files as its next version, where they are sound",
      request: {
        params: ofVehicle,
        headers: z.object({
          "if-match": z.string().max(50).optional().describe("The ETag of the version it was made from."),
          "if-none-match": z.string().max(50).optional().describe("`*`: only where there is none yet."),
        }),
        ...body(z.strictObject({ files: z.array(fileShape).min(1).max(100).describe("The main file first.") })),
      },
      responses: {
        200: answer(
          versionShape.extend({ warnings: z.array(z.string()) }),
          "The version; the one before where nothing changed.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      if (!who.steward && ![...who.sites.values()].some((roles) => roles.includes("foreman")))
        throw forbidden(["foremanNowhere", who.name], ["foremanKeeps"]);
      const { vehicle } = c.req.valid("param");
      const { files } = c.req.valid("json");
      const latest = await store.vehicle(vehicle);
      const asked = c.req.header("if-none-match") === "*" ? `"v0"` : c.req.header("if-match");
      if (asked !== undefined && asked !== `"v${latest?.version ?? 0}"`)
        throw new Problem(412, "stale", ["keptSince"], ["readThenThat"]);
      const { faults, warnings } = await planning.check(files, who.person);
      if (faults.length > 0)
        throw new Problem(400, "unsound", ["unsound", faults.length], ["asItSays", saidFirst(faults.map(sentence))], {
          faults: faults.map((fault) => ({ ...fault, sentence: sentence(fault) })),
        });
      const { files: _, ...version } = await store.saveVehicle(vehicle, files, world.now(), who.person);
      return c.json({ ...version, warnings: warnings.map(sentence) }, 200, { etag: `"v${version.version}"` });
    },
  );

  return app;
};

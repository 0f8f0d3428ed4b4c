// Owns the routes of photos: kept under the hash of their bytes, given back as they came.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { Store } from "../../store/index.ts";
import { notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { answer, digestShape, refusals } from "./shapes.ts";
import { type Carried, someone } from "./who.ts";

const TYPES = ["image/jpeg", "image/png", "image/webp"] as const;
const bytes = z.string().meta({ format: "binary" });

export const photoRoutes = (store: Store): OpenAPIHono<Carried> => {
  const app = newRoutes();

  app.openapi(
    createRoute({
      method: "post",
      path: "/photos",
      summary: "Keep a photo: JPEG, PNG or WebP, up to 12 MB",
      request: {
        body: { required: true, content: Object.fromEntries(TYPES.map((type) => [type, { schema: bytes }])) },
      },
      responses: {
        200: answer(z.strictObject({ digest: digestShape, type: z.enum(TYPES) }), "It is kept, now or before."),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      if (![...who.sites.values()].some((roles) => roles.some((role) => role !== "reader")))
        throw new Problem(403, "not-allowed", `${who.name} reads only`, "Ask the foreman.");
      return c.json(await store.savePhoto(new Uint8Array(await c.req.arrayBuffer())), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/photos/{digest}",
      summary: "A photo",
      request: { params: z.object({ digest: digestShape }) },
      responses: {
        200: {
          description: "Its bytes, as they came.",
          content: Object.fromEntries(TYPES.map((type) => [type, { schema: bytes }])),
        },
        304: { description: "As it was: a photo never changes." },
        ...refusals,
      },
    }),
    async (c) => {
      someone(c.var.who);
      const { digest } = c.req.valid("param");
      const tag = `"${digest}"`;
      if (c.req.header("if-none-match") === tag) return c.body(null, 304);
      const photo = await store.photo(digest);
      if (photo === undefined)
        throw notFound(`there is no photo ${digest.slice(0, 12)}…`, "It comes when its device is back.");
      return c.body(new Uint8Array(photo.bytes), 200, {
        "content-type": photo.type,
        "cache-control": "private, max-age=31536000, immutable",
        etag: tag,
      });
    },
  );

  return app;
};

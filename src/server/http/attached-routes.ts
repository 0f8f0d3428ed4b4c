// Owns the routes of photos and spoken notes: kept under the hash of their bytes, given back as they came.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { PHOTO_TYPES, type Store, VOICE_TYPES } from "../../store/index.ts";
import { notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { answer, digestShape, refusals } from "./shapes.ts";
import { type Carried, someone } from "./who.ts";

interface Kept {
  readonly digest: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}

/** One kind of what is attached. */
interface Kind {
  readonly path: "photos" | "voices";
  readonly name: "photo" | "spoken note";
  readonly keeps: string;
  readonly types: readonly [string, ...string[]];
  readonly save: (bytes: Uint8Array) => Promise<Omit<Kept, "bytes">>;
  readonly read: (digest: string) => Promise<Kept | undefined>;
}

export const attachedRoutes = (store: Store): OpenAPIHono<Carried> => {
  const app = newRoutes();
  routesOf(app, {
    path: "photos",
    name: "photo",
    keeps: "JPEG, PNG or WebP, up to 12 MB",
    types: PHOTO_TYPES,
    save: (bytes) => store.savePhoto(bytes),
    read: (digest) => store.photo(digest),
  });
  routesOf(app, {
    path: "voices",
    name: "spoken note",
    keeps: "sound in WebM, Ogg or MP4, up to 1 MB",
    types: VOICE_TYPES,
    save: (bytes) => store.saveVoice(bytes),
    read: (digest) => store.voice(digest),
  });
  return app;
};

const bytes = z.string().meta({ format: "binary" });

const routesOf = (app: OpenAPIHono<Carried>, { path, name, keeps, types, save, read }: Kind): void => {
  const content = Object.fromEntries(types.map((type) => [type, { schema: bytes }]));
  app.openapi(
    createRoute({
      method: "post",
      path: `/${path}`,
      summary: `Keep a ${name}: ${keeps}`,
      request: { body: { required: true, content } },
      responses: {
        200: answer(z.strictObject({ digest: digestShape, type: z.enum(types) }), "It is kept, now or before."),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      if (![...who.sites.values()].some((roles) => roles.some((role) => role !== "reader")))
        throw new Problem(403, "not-allowed", ["readsOnly", who.name], ["askForeman"]);
      return c.json(await save(new Uint8Array(await c.req.arrayBuffer())), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: `/${path}/{digest}`,
      summary: `A ${name}`,
      request: { params: z.object({ digest: digestShape }) },
      responses: {
        200: { description: "Its bytes, as they came.", content },
        304: { description: `As it was: a ${name} never changes.` },
        ...refusals,
      },
    }),
    async (c) => {
      someone(c.var.who);
      const { digest } = c.req.valid("param");
      const tag = `"${digest}"`;
      if (c.req.header("if-none-match") === tag) return c.body(null, 304);
      const kept = await read(digest);
      if (kept === undefined) throw notFound(["noAttached", name, digest.slice(0, 12)], ["withItsDevice"]);
      return c.body(new Uint8Array(kept.bytes), 200, {
        "content-type": kept.type,
        "cache-control": "private, max-age=31536000, immutable",
        etag: tag,
      });
    },
  );
};

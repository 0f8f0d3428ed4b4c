// Owns the routes of photos and spoken notes: kept under the hash of their bytes, given back as they came.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { Entry } from "../../ledger/index.ts";
import { PHOTO_TYPES, VOICE_TYPES } from "../../store/index.ts";
import type { Desks } from "./desks.ts";
import type { Office } from "./office.ts";
import { notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { seenRun } from "./seen-run.ts";
import { answer, digestShape, idShape, refusals } from "./shapes.ts";
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

/** Whether an entry has a photo or a spoken note of this digest with it. */
const names = ({ body }: Entry, path: Kind["path"], digest: string): boolean => {
  const list: unknown = { ...body }[path as never];
  return Array.isArray(list) && list.includes(digest);
};

export const attachedRoutes = ({ store, desks }: Office): OpenAPIHono<Carried> => {
  const app = newRoutes();
  routesOf(app, desks, {
    path: "photos",
    name: "photo",
    keeps: "JPEG, PNG or WebP, up to 12 MB",
    types: PHOTO_TYPES,
    save: (bytes) => store.savePhoto(bytes),
    read: (digest) => store.photo(digest),
  });
  routesOf(app, desks, {
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

const routesOf = (app: OpenAPIHono<Carried>, desks: Desks, { path, name, keeps, types, save, read }: Kind): void => {
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
      path: `/runs/{run}/${path}/{digest}`,
      summary: `A ${name} that an entry of this run names`,
      request: { params: z.object({ run: idShape, digest: digestShape }) },
      responses: {
        200: { description: "Its bytes, as they came.", content },
        304: { description: `As it was: a ${name} never changes.` },
        ...refusals,
      },
    }),
    async (c) => {
      const { run, digest } = c.req.valid("param");
      await seenRun(desks, c.var.who, run);
      const { told } = await desks.at(run);
      const kept = told.some(({ entry }) => names(entry, path, digest)) ? await read(digest) : undefined;
      if (kept === undefined) throw notFound(["noAttached", name, digest.slice(0, 12)], ["withItsDevice"]);
      const tag = `"${digest}"`;
      if (c.req.header("if-none-match") === tag) return c.body(null, 304);
      return c.body(new Uint8Array(kept.bytes), 200, {
        "content-type": kept.type,
        "cache-control": "private, max-age=31536000, immutable",
        etag: tag,
      });
    },
  );
};

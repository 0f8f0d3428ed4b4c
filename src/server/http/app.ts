// Owns the server's application: what every request passes through, which routes there are, and their description.

import type { OpenAPIHono } from "@hono/zod-openapi";
import type { Context, MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { secureHeaders } from "hono/secure-headers";
import { attachedRoutes } from "./attached-routes.ts";
import type { Listening } from "./event-stream.ts";
import { liveRoute } from "./live.ts";
import { newsRoute } from "./news.ts";
import { type Log, type Metrics, observe, observeRoutes } from "./observe.ts";
import type { Office } from "./office.ts";
import { orderRoutes } from "./order-routes.ts";
import { answerProblem, Problem, problemOf } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { runRoutes } from "./run-routes.ts";
import { screens } from "./screens.ts";
import { vehicleRoutes } from "./vehicle-routes.ts";
import type { Carried } from "./who.ts";

/** Bytes of a body: of most; of a vehicle's files; of a photo, somewhat more than the store takes so that it is the store that says why. */
const BODY = 2 * 1024 * 1024;
const FILES = 24 * 1024 * 1024;
const PHOTO = 13 * 1024 * 1024;

type Policy = NonNullable<NonNullable<Parameters<typeof secureHeaders>[0]>["contentSecurityPolicy"]>;

export interface Parts {
  readonly office: Office;
  readonly metrics: Metrics;
  readonly log: Log;
  readonly version: string;
  /** Names a request in log and answer. */
  readonly nextId: () => string;
  /** Who asks: sets `who`, and refuses what another page made a browser ask. */
  readonly identify: readonly MiddlewareHandler<Carried>[];
  /** Routes of other rooms of the server, under /api. */
  readonly routes: readonly OpenAPIHono<Carried>[];
  readonly isSecure: boolean;
  /** The screens as they were built. */
  readonly screens?: URL | undefined;
}

export const makeApp = ({
  office,
  metrics,
  log,
  version,
  nextId,
  identify,
  routes,
  isSecure,
  screens: folder,
}: Parts): OpenAPIHono<Carried> => {
  const app = newRoutes();
  app.use(observe(metrics, log, nextId, () => office.world.now()));
  // Of two policies the one that stands first has the last word. Where such a thing is refused, the answer is a page of the screens, with theirs.
  const strictly = (contentSecurityPolicy: Policy): MiddlewareHandler<Carried> => {
    const headers = secureHeaders({ contentSecurityPolicy });
    return async (c, next) => {
      await next();
      if (c.res.status < 400) await headers(c, () => Promise.resolve());
    };
  };
  for (const path of ["/api/runs/:run/photos/*", "/api/runs/:run/voices/*"])
    app.use(path, strictly({ defaultSrc: ["'none'"], sandbox: [] }));
  // A pack to be read out is a page of its own, with its style in it: it loads nothing and runs nothing.
  app.use(
    "/api/orders/:order/pack.html",
    strictly({ defaultSrc: ["'none'"], styleSrc: ["'unsafe-inline'"], frameAncestors: ["'none'"] }),
  );
  app.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'self'"],
        imgSrc: ["'self'", "data:", "blob:"],
        // A spoken note, or the recording of a talk, is heard from the device's own copy.
        mediaSrc: ["'self'", "blob:"],
        // Drawings are placed by attributes; no style and no script comes from a text that somebody entered.
        styleSrc: ["'self'"],
        objectSrc: ["'none'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
      },
      xFrameOptions: "DENY",
      referrerPolicy: "no-referrer",
      strictTransportSecurity: isSecure ? "max-age=31536000" : false,
      permissionsPolicy: { camera: ["self"], microphone: ["self"], geolocation: [] },
    }),
  );
  const api = newRoutes();
  const limit = (maxSize: number): MiddlewareHandler<Carried> => {
    const onError = (c: Context) =>
      answerProblem(c, new Problem(413, "too-large", ["tooLarge", Math.floor(maxSize / 1e6)], ["sendLess"]));
    const counted = bodyLimit({ maxSize, onError });
    return (c, next) => {
      const length = c.req.header("content-length");
      // Node holds a body to the length that it names; only one that names none is counted as it comes, which costs a stream for each request.
      if (length === undefined || c.req.header("transfer-encoding") !== undefined) return counted(c, next);
      return Number(length) > maxSize ? Promise.resolve(onError(c)) : next();
    };
  };
  const [most, files, photo] = [limit(BODY), limit(FILES), limit(PHOTO)];
  api.use((c, next) =>
    (/\/photos$/.test(c.req.path) ? photo : /\/(vehicles|questions)\b/.test(c.req.path) ? files : most)(c, next),
  );
  for (const one of identify) api.use(one);
  api.use(async (c, next) => {
    await next();
    // What is said of a run is for who asked, at the moment of asking.
    if (!c.res.headers.has("cache-control")) c.header("cache-control", "no-store");
  });
  const listening: Listening = { count: 0 };
  metrics.gauge("unmoor_listening", "Clients that follow a run.", () => listening.count);
  liveRoute(api, office, listening);
  newsRoute(api, office, listening);
  for (const one of [vehicleRoutes(office), orderRoutes(office), runRoutes(office), attachedRoutes(office), ...routes])
    api.route("/", one);
  api.doc31("/openapi.json", {
    openapi: "3.1.0",
    info: { title: "Unmoor", version, description: "Orders, runs, entries and gates of a shop." },
  });
  for (const one of identify) app.use("/metrics", one);
  observeRoutes(app, office.store, metrics, office.stopping);
  app.route("/api", api);
  const refuse = screens(app, folder);
  app.onError((error, c) => {
    const problem = problemOf(error);
    if (problem.status === 500) {
      metrics.faults.inc();
      log({
        at: new Date(office.world.now()).toISOString(),
        request: c.var.request,
        fault: String(error),
        stack: error.stack,
      });
    }
    return refuse(c, problem);
  });
  return app;
};

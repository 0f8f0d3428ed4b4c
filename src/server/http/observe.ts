// Owns what whoever keeps the server sees of it: health, readiness, metrics in Prometheus' format, one line of log for each request.

import { getConnInfo } from "@hono/node-server/conninfo";
import type { Hono, MiddlewareHandler } from "hono";
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import type { Store } from "../../store/index.ts";
import { forbidden } from "./problem.ts";
import type { Carried } from "./who.ts";

/** Where lines of log go. */
export type Log = (line: Readonly<Record<string, unknown>>) => void;

/** Milliseconds that the store may take to say that it is there. */
const PATIENCE = 2000;

export class Metrics {
  readonly registry = new Registry();
  readonly requests = new Histogram({
    name: "unmoor_request_seconds",
    help: "Requests by method, route and status.",
    labelNames: ["method", "route", "status"],
    buckets: [0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1, 5],
    registers: [this.registry],
  });
  readonly faults = new Counter({
    name: "unmoor_faults_total",
    help: "Faults of the server itself.",
    registers: [this.registry],
  });

  constructor() {
    collectDefaultMetrics({ register: this.registry });
  }

  /** A figure that is looked up whenever it is asked for. */
  gauge(name: string, help: string, read: () => number): void {
    new Gauge({
      name,
      help,
      registers: [this.registry],
      collect() {
        this.set(read());
      },
    });
  }
}

/** Measures and logs each request, under the id that it is answered with. */
export const observe =
  (metrics: Metrics, log: Log, nextId: () => string, now: () => number): MiddlewareHandler<Carried> =>
  async (c, next) => {
    const began = performance.now();
    const request = nextId();
    c.set("request", request);
    await next();
    c.header("x-request-id", request);
    const seconds = (performance.now() - began) / 1000;
    // The route, not the address: ids would make a series each.
    const route = c.req.routePath;
    metrics.requests.observe({ method: c.req.method, route, status: c.res.status }, seconds);
    log({
      at: new Date(now()).toISOString(),
      request,
      method: c.req.method,
      path: c.req.path,
      status: c.res.status,
      ms: Math.round(seconds * 10_000) / 10,
      ...(c.var.who === undefined ? {} : { who: c.var.who.person }),
    });
  };

export const observeRoutes = (app: Hono<Carried>, store: Store, metrics: Metrics, stopping: AbortSignal): void => {
  app.get("/health", (c) => c.json({ alive: true }));
  app.get("/ready", async (c) => {
    const late = new Promise<false>((resolve) => setTimeout(() => resolve(false), PATIENCE).unref());
    const isThere = store.sites().then(
      () => true,
      () => false,
    );
    const ready = !stopping.aborted && (await Promise.race([isThere, late]));
    return c.json({ ready }, ready ? 200 : 503);
  });
  app.get("/metrics", async (c) => {
    const { address = "" } = getConnInfo(c).remote;
    if (!/^(127\.|::1$|::ffff:127\.)/.test(address) && c.var.who?.steward !== true)
      throw forbidden(["metricsClosed"], ["askHere"]);
    return c.text(await metrics.registry.metrics(), 200, { "content-type": metrics.registry.contentType });
  });
};

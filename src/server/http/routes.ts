// Owns the beginning of every set of routes: what is not as described is refused, every fault with its place.

import { OpenAPIHono } from "@hono/zod-openapi";
import { badRequest } from "./problem.ts";
import type { Carried } from "./who.ts";

/** An empty set of routes. */
export const newRoutes = (): OpenAPIHono<Carried> =>
  new OpenAPIHono<Carried>({
    defaultHook(result) {
      if (result.success) return;
      const faults = result.error.issues.map(({ path, message }) => ({
        at: path.map(String).join("."),
        what: message,
      }));
      throw badRequest(
        ["notAsDescribed", faults.map(({ at, what }) => (at === "" ? what : `${at}: ${what}`)).join("; ")],
        ["seeDescription"],
        { faults },
      );
    },
  });

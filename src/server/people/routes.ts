// Owns what the server mounts of people: their routes, and what every request passes before them.

import { getConnInfo } from "@hono/node-server/conninfo";
import type { OpenAPIHono } from "@hono/zod-openapi";
import type { Context, MiddlewareHandler } from "hono";
import { newRoutes } from "../http/routes.ts";
import type { Carried } from "../http/who.ts";
import { deviceRoutes } from "./device-routes.ts";
import type { Doorkeeper } from "./doorkeeper.ts";
import { identify } from "./identify.ts";
import { memberRoutes } from "./member-routes.ts";
import { PeopleOffice } from "./office.ts";
import { passkeyRoutes } from "./passkey-routes.ts";
import { signInRoutes } from "./sign-in-routes.ts";
import { siteRoutes } from "./site-routes.ts";

export interface Entrance {
  /** To be mounted under /api. */
  readonly routes: OpenAPIHono<Carried>;
  /** Before all routes: sets who asks, refuses what another page made a browser send. */
  readonly identify: readonly MiddlewareHandler<Carried>[];
}

/**
 * @param isSecure whether the server is reached over HTTPS: cookies go over nothing else then
 * @param addressOf where a request comes from; behind a proxy that is the proxy's to say
 */
export const peopleRoutes = (
  door: Doorkeeper,
  isSecure: boolean,
  addressOf: (c: Context) => string = (c) => getConnInfo(c).remote.address ?? "",
): Entrance => {
  const office = new PeopleOffice(door, isSecure, addressOf);
  const routes = newRoutes();
  for (const one of [
    signInRoutes(office),
    memberRoutes(office),
    siteRoutes(office),
    deviceRoutes(office),
    passkeyRoutes(office),
  ])
    routes.route("/", one);
  return { routes, identify: [identify(door, office.cookies)] };
};

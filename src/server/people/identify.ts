// Owns what every request passes at the door: who is behind it, and whether it was another page that made a browser send it.

import type { Context, MiddlewareHandler } from "hono";
import { Problem } from "../http/problem.ts";
import type { Carried } from "../http/who.ts";
import type { Cookies } from "./cookies.ts";
import type { Doorkeeper } from "./doorkeeper.ts";

const SAFE = /^(GET|HEAD|OPTIONS)$/;

/**
 * Sets `who`, `session` and `pairing`. A bearer token counts before any cookie, and a wrong one is nobody's: the cookie is not looked at then.
 * @throws Problem 403 where another site is behind a request that changes something
 */
export const identify =
  (door: Doorkeeper, cookies: Cookies): MiddlewareHandler<Carried> =>
  async (c, next) => {
    const bearer = /^Bearer ([A-Za-z0-9_-]{1,200})$/i.exec(c.req.header("authorization") ?? "")?.[1];
    const { session, device } = cookies.read(c);
    const hasCookie = bearer === undefined && (session !== undefined || device !== undefined);
    if (!SAFE.test(c.req.method)) refuseOthers(c, hasCookie);
    const found = await door.whoIs(bearer ?? session, device);
    // A token of a program is good as such only, a cookie's as a cookie: one that leaks is no use as the other.
    const fits = found.session === undefined || (found.session.by === "token") === (bearer !== undefined);
    c.set("who", fits ? found.who : undefined);
    c.set("session", fits ? found.session : undefined);
    c.set("pairing", found.pairing);
    await next();
  };

/**
 * Beside SameSite: browsers say where a request comes from, in `Sec-Fetch-Site` (W3C Fetch Metadata) or `Origin` (Fetch Standard, 3.2), and no page can
 * change either. What says neither is no browser of today: it may come without a cookie, and with one it may not.
 */
const refuseOthers = (c: Context, hasCookie: boolean): void => {
  const site = c.req.header("sec-fetch-site");
  const origin = c.req.header("origin");
  const isOwn = origin !== undefined && URL.canParse(origin) && new URL(origin).host === c.req.header("host");
  const isAllowed = site !== undefined ? site === "same-origin" : origin !== undefined ? isOwn : !hasCookie;
  if (!isAllowed) throw new Problem(403, "another-site", ["otherPage"], ["ownPageOrToken"]);
};

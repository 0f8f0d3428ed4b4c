// Owns the routes of the door: first set-up, signing in and out, who one is, one's sessions.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { ROLES } from "../../ledger/index.ts";
import type { Session } from "../../store/index.ts";
import { badRequest, notFound } from "../http/problem.ts";
import { newRoutes } from "../http/routes.ts";
import { answer, body, idShape, momentShape, refusals } from "../http/shapes.ts";
import { type Carried, someone, type Who } from "../http/who.ts";
import { nameShape, type PeopleOffice, secretShape } from "./office.ts";
import { mayReset } from "./rules.ts";
import { zoneOf, zoneShape } from "./zone.ts";

const rolesShape = z.array(z.enum(ROLES));
const deviceShape = z.strictObject({
  id: z.string(),
  name: z.string(),
  site: z.string(),
  label: z.string().describe("What the site is called."),
  zone: zoneShape,
  own: z.boolean(),
});

const meShape = z
  .strictObject({
    person: z.string(),
    name: z.string(),
    session: z.string().describe("Its id."),
    sites: z.record(z.string(), rolesShape).describe("Roles by site; after a PIN those of the device's site only."),
    steward: z.boolean(),
    by: z.enum(["pin", "password", "passkey", "token"]),
    device: z.string().nullable(),
    until: momentShape.describe("The session is over then at the latest."),
    idle: z.int().describe("Milliseconds without a request after which it is over before."),
  })
  .openapi("Me");

const describe = (who: Who, { id, until, idle }: Session): z.infer<typeof meShape> => ({
  person: who.person,
  name: who.name,
  session: id,
  sites: Object.fromEntries([...who.sites].map(([site, roles]) => [site, [...roles]])),
  steward: who.steward,
  by: who.by,
  device: who.device ?? null,
  until,
  idle,
});

const sessionShape = z
  .strictObject({
    id: z.string(),
    by: z.enum(["pin", "password", "passkey", "token"]),
    device: z.string().nullable(),
    address: z.string(),
    opened: momentShape,
    seen: momentShape.describe("To within a tenth of its idle time."),
    until: momentShape,
    own: z.boolean().describe("The one that asks."),
  })
  .openapi("Session");

export const signInRoutes = (office: PeopleOffice): OpenAPIHono<Carried> => {
  const { door, cookies } = office;
  const { accounts } = door.store;
  const app = newRoutes();

  app.openapi(
    createRoute({
      method: "get",
      path: "/door",
      summary: "What a page must know before anybody is signed in",
      responses: {
        200: answer(
          z.strictObject({
            setup: z.boolean().describe("Nobody can sign in yet; the code stands where the server was started."),
            device: deviceShape.nullable().describe("This device, where it is paired."),
            signedIn: z.boolean(),
          }),
          "Open to all.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const { pairing, who } = c.var;
      const site = pairing === undefined ? undefined : (await door.store.site(pairing.site))?.value;
      const device =
        pairing === undefined
          ? null
          : {
              id: pairing.id,
              name: pairing.name,
              site: pairing.site,
              label: site?.label ?? pairing.site,
              zone: zoneOf(site ?? { body: {} }),
              own: pairing.owner !== undefined,
            };
      return c.json({ setup: !(await accounts.anybody()), device, signedIn: who !== undefined }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/setup",
      summary: "The first person: foreman of the first site, and steward",
      request: body(
        z.strictObject({
          code: z.string().max(40).describe("Stands where the server was started."),
          person: idShape,
          name: nameShape,
          password: secretShape,
          site: nameShape.describe("What the first site is called."),
          zone: zoneShape.optional(),
        }),
      ),
      responses: { 200: answer(z.strictObject({ person: z.string() }), "Sign in now."), ...refusals },
    }),
    async (c) => {
      const first = c.req.valid("json");
      await door.setUp(first, office.from(c));
      return c.json({ person: first.person }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/sign-in",
      summary: "Sign in by password, or by PIN on a paired tablet",
      request: body(
        z.strictObject({
          person: idShape,
          password: secretShape.optional(),
          pin: z.string().max(20).optional(),
          next: secretShape.optional().describe("One's own, where the secret is a start secret that a foreman gave."),
          token: z.boolean().optional().describe("For a program: a bearer token in the answer, and no cookie."),
        }),
      ),
      responses: {
        200: answer(
          z.strictObject({
            person: z.string(),
            name: z.string(),
            until: momentShape,
            idle: z.int(),
            token: z.string().optional().describe("Shown this once."),
          }),
          "The session is in a cookie, or its token is here.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const { person, password, pin, next, token } = c.req.valid("json");
      const kind = pin === undefined ? "password" : "pin";
      const secret = pin ?? password;
      if (secret === undefined || (pin !== undefined && (password !== undefined || token === true)))
        throw badRequest(["neitherGiven"], ["programByPassword"]);
      const opened = await door.signIn({ person, kind, secret, next, token }, office.from(c), c.var.session);
      const { session, member } = opened;
      const said = { person, name: member.name, until: session.until, idle: session.idle };
      if (token === true) return c.json({ ...said, token: opened.token }, 200);
      office.begin(c, opened.token, session);
      return c.json(said, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/sign-out",
      summary: "End this session",
      responses: { 204: { description: "It is over; also where there was none." }, ...refusals },
    }),
    async (c) => {
      const { session } = c.var;
      if (session !== undefined) await door.sessions.end({ id: session.id });
      cookies.takeSession(c);
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/sign-out-everywhere",
      summary: "End all of one's sessions, tokens of programs as well",
      responses: { 204: { description: "They are over." }, ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      await door.sessions.end({ person: who.person });
      await door.audit.write(who.person, "sessions", "ended", office.from(c));
      cookies.takeSession(c);
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/me",
      summary: "Who is signed in, and what he may do where",
      responses: { 200: answer(meShape, "By this session."), ...refusals },
    }),
    (c) => {
      const who = someone(c.var.who);
      return c.json(describe(who, c.var.session!), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/sessions",
      summary: "Open sessions: one's own, or of somebody whose foreman one is",
      request: { query: z.object({ person: idShape.optional() }) },
      responses: { 200: answer(z.strictObject({ sessions: z.array(sessionShape) }), "The oldest first."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { person = who.person } = c.req.valid("query");
      if (person !== who.person) mayReset(who, await office.memberOf(person));
      const sessions = (await accounts.sessionsOf(person)).filter((session) => door.sessions.isLive(session));
      return c.json(
        {
          sessions: sessions.map(({ id, by, device, address, opened, seen, until }) => ({
            id,
            by,
            device: device ?? null,
            address,
            opened,
            seen,
            until,
            own: id === c.var.session?.id,
          })),
        },
        200,
      );
    },
  );

  app.openapi(
    createRoute({
      method: "delete",
      path: "/sessions/{id}",
      summary: "End a session: one's own, or of somebody whose foreman one is",
      request: { params: z.object({ id: idShape }), query: z.object({ person: idShape.optional() }) },
      responses: { 204: { description: "It is over." }, ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { id } = c.req.valid("param");
      const { person = who.person } = c.req.valid("query");
      if (person !== who.person) mayReset(who, await office.memberOf(person));
      if ((await door.sessions.end({ id, person })) === 0) throw notFound(["noSuchSession"], ["seeList"]);
      await door.audit.write(person, "sessions", "ended", office.from(c), who.person);
      return c.body(null, 204);
    },
  );

  return app;
};

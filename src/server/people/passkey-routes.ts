// Owns the routes of passkeys.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { AuthenticationResponseJSON, RegistrationResponseJSON } from "@simplewebauthn/server";
import type { Context } from "hono";
import { badRequest, forbidden } from "../http/problem.ts";
import { newRoutes } from "../http/routes.ts";
import { answer, body, momentShape, refusals } from "../http/shapes.ts";
import { type Carried, someone } from "../http/who.ts";
import { nameShape, type PeopleOffice } from "./office.ts";
import type { Place } from "./passkeys.ts";
import { beyondPin } from "./rules.ts";

const base64 = z
  .string()
  .max(20_000)
  .regex(/^[A-Za-z0-9_-]*$/, "base64url");
const keyIdShape = base64.min(1).max(1400);

/** A browser's answer, as `toJSON` of the Web Authentication standard gives it. */
const madeShape = z.looseObject({
  id: keyIdShape,
  rawId: keyIdShape,
  type: z.literal("public-key"),
  clientExtensionResults: z.looseObject({}).default({}),
  response: z.looseObject({
    clientDataJSON: base64,
    attestationObject: base64,
    transports: z.array(z.string().max(40)).max(10).optional(),
  }),
});
const shownShape = z.looseObject({
  id: keyIdShape,
  rawId: keyIdShape,
  type: z.literal("public-key"),
  clientExtensionResults: z.looseObject({}).default({}),
  response: z.looseObject({
    clientDataJSON: base64,
    authenticatorData: base64,
    signature: base64,
    userHandle: base64.optional(),
  }),
});

const passkeyShape = z
  .strictObject({ id: z.string(), label: z.string(), at: momentShape, used: momentShape.nullable() })
  .openapi("Passkey");

/** A passkey is bound to a name, not to an address (Web Authentication, 5.1.2: the identifier is a domain). @throws Problem 400 */
const placeOf = (c: Context): Place => {
  const origin = c.req.header("origin") ?? "";
  const url = URL.canParse(origin) ? new URL(origin) : undefined;
  if (url === undefined || url.host !== c.req.header("host")) throw badRequest(["noPageSaid"], ["ownPage"]);
  if (/^[\d.]+$|:|^\[/.test(url.hostname)) throw badRequest(["passkeyByName"], ["byItsName"]);
  return { origin, name: url.hostname };
};

/** Milliseconds after signing in for which a passkey may be made. */
const FRESH = 600_000;

export const passkeyRoutes = (office: PeopleOffice): OpenAPIHono<Carried> => {
  const { door } = office;
  const { passkeys, store } = door;
  const app = newRoutes();
  const options = answer(z.looseObject({ challenge: z.string() }), "For the browser, as JSON of the standard.");

  app.openapi(
    createRoute({
      method: "post",
      path: "/passkeys/options",
      summary: "Begin to make a passkey",
      responses: { 200: options, ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      beyondPin(who);
      // A session that somebody stole must not become a key of his own that lasts.
      if (door.now() - (c.var.session?.opened ?? 0) > FRESH) throw forbidden(["passwordLongAgo"], ["signInForPasskey"]);
      return c.json(await passkeys.askToMake(who, placeOf(c)), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/passkeys",
      summary: "Keep the passkey that the browser made",
      request: body(z.strictObject({ label: nameShape, made: madeShape })),
      responses: { 200: answer(z.strictObject({ id: z.string() }), "It opens from now on."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      beyondPin(who);
      const { label, made } = c.req.valid("json");
      const id = await passkeys.make(
        who,
        made as unknown as RegistrationResponseJSON,
        label,
        placeOf(c),
        office.from(c),
      );
      return c.json({ id }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/passkeys",
      summary: "One's passkeys",
      responses: { 200: answer(z.strictObject({ passkeys: z.array(passkeyShape) }), "The oldest first."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const own = await store.accounts.passkeysOf(who.person);
      return c.json({ passkeys: own.map(({ id, label, at, used }) => ({ id, label, at, used: used ?? null })) }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "delete",
      path: "/passkeys/{id}",
      summary: "Remove one of one's passkeys",
      request: { params: z.object({ id: keyIdShape }) },
      responses: { 204: { description: "It opens no more." }, ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      beyondPin(who);
      await store.accounts.removePasskey(who.person, c.req.valid("param").id);
      await door.audit.write(who.person, "passkey", "withdrawn", office.from(c));
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/sign-in/passkey/options",
      summary: "Begin to sign in by passkey",
      responses: { 200: options, ...refusals },
    }),
    async (c) => c.json(await passkeys.askToSignIn(placeOf(c)), 200),
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/sign-in/passkey",
      summary: "Sign in by passkey",
      request: body(shownShape),
      responses: {
        200: answer(
          z.strictObject({ person: z.string(), name: z.string(), until: momentShape, idle: z.int() }),
          "The session is in a cookie.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const shown = c.req.valid("json") as unknown as AuthenticationResponseJSON;
      const opened = await passkeys.signIn(shown, placeOf(c), office.from(c), c.var.session);
      const { session, member } = opened;
      office.begin(c, opened.token, session);
      return c.json({ person: member.person, name: member.name, until: session.until, idle: session.idle }, 200);
    },
  );

  return app;
};

// Owns the routes of devices: pairing a tablet with a site, making one's own known, naming and withdrawing them, and the key that they seal to.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { deviceOf, isPairingSigned } from "../../ledger/index.ts";
import type { Pairing } from "../../store/index.ts";
import { badRequest, forbidden, notFound, Problem, signInFirst } from "../http/problem.ts";
import { newRoutes } from "../http/routes.ts";
import { answer, body, idShape, momentShape, refusals } from "../http/shapes.ts";
import { type Carried, demand, has, someone, type Who } from "../http/who.ts";
import { nameShape, type PeopleOffice } from "./office.ts";
import { beyondPin, foremanAt } from "./rules.ts";
import { digestOf, newName, newToken } from "./tokens.ts";

const ofDevice = z.object({ id: idShape });
const deviceShape = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    site: z.string(),
    owner: z.string().nullable().describe("Whose own it is; null where the site shares it."),
    at: momentShape,
    by: z.string(),
    withdrawn: momentShape.nullable(),
  })
  .openapi("Device");

const describe = ({ id, name, site, owner, at, by, withdrawn }: Pairing): z.infer<typeof deviceShape> => ({
  id,
  name,
  site,
  owner: owner ?? null,
  at,
  by,
  withdrawn: withdrawn ?? null,
});

export const deviceRoutes = (office: PeopleOffice): OpenAPIHono<Carried> => {
  const { door, cookies } = office;
  const { store, now } = door;
  const { accounts } = store;
  const app = newRoutes();

  const governs = (who: Who, { site, owner }: Pairing): boolean =>
    who.steward || owner === who.person || (owner === undefined && has(who, site, "foreman"));

  app.openapi(
    createRoute({
      method: "post",
      path: "/devices",
      summary: "Pair this device: a tablet of one's site as its foreman, or one's own",
      description:
        "The device gets a cookie. On a shared one the session that paired it is over: from now on people sign in there by PIN. " +
        "With `key` entries that the device signs are told as its own; `proof` signs `unmoor-device/1`, the session's id and the key, a line each.",
      request: body(
        z.strictObject({
          name: nameShape,
          site: idShape.optional().describe("Where one belongs to several."),
          own: z.boolean().default(false),
          key: z
            .string()
            .regex(/^[0-9a-f]{64}$/)
            .optional()
            .describe("Ed25519."),
          proof: z
            .string()
            .regex(/^[0-9a-f]{128}$/)
            .optional(),
        }),
      ),
      responses: { 200: answer(deviceShape, "It is paired."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      beyondPin(who);
      const session = c.var.session!;
      if (session.by === "token") throw forbidden(["tokenPairs"], ["onDevice"]);
      const { name, own, key, proof, ...asked } = c.req.valid("json");
      const choices = own ? [...who.sites.keys()] : foremanAt(who);
      const site = asked.site ?? (choices.length === 1 ? choices[0] : undefined);
      if (site === undefined) throw badRequest(["siteUnsaid"], ["nameOne", choices]);
      if (own) demand(who, site);
      else demand(who, site, "foreman");
      if (key !== undefined && !isPairingSigned(key, session.id, proof ?? ""))
        throw badRequest(["keyNotShown"], ["signWithIt"]);
      const id = key === undefined ? newName("device") : deviceOf(key);
      const there = await accounts.pairing({ id });
      if (there !== undefined && there.withdrawn === undefined && !governs(who, there))
        throw new Problem(409, "clash", ["pairedAlready"], ["withdrawFirst"]);
      if (key !== undefined) await store.saveDevice({ id, key, at: now() });
      // What it was before is over, its sessions as well: they were another's, or of another site.
      for (const before of new Set([there?.id, c.var.pairing?.id]))
        if (before !== undefined) await accounts.withdrawPairing(before, now());
      const token = newToken();
      const owner = own ? who.person : undefined;
      const pairing: Pairing = {
        id,
        site,
        name,
        digest: digestOf(token),
        at: now(),
        by: who.person,
        owner,
        withdrawn: undefined,
      };
      await accounts.pair(pairing);
      await door.audit.write(who.person, "device", "paired", { ...office.from(c), pairing });
      cookies.giveDevice(c, token);
      await door.sessions.end({ id: session.id });
      if (own) {
        const opened = await door.sessions.open(who.person, session.by, { ...office.from(c), pairing }, undefined);
        office.begin(c, opened.token, opened.session);
      } else cookies.takeSession(c);
      return c.json(describe(pairing), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/devices",
      summary: "Devices of the sites one is foreman of, and one's own; all to a steward",
      responses: { 200: answer(z.strictObject({ devices: z.array(deviceShape) }), "The oldest first."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const all = await accounts.pairings(who.steward ? undefined : [...who.sites.keys()]);
      return c.json({ devices: all.filter((one) => governs(who, one)).map(describe) }, 200);
    },
  );

  /** @throws Problem 401, 403, 404 */
  const governed = async (who: Who, id: string): Promise<Pairing> => {
    beyondPin(who);
    const pairing = await accounts.pairing({ id });
    if (pairing === undefined || !governs(who, pairing)) throw notFound(["noDevice", id], ["seeList"]);
    return pairing;
  };

  app.openapi(
    createRoute({
      method: "put",
      path: "/devices/{id}",
      summary: "Name a device",
      request: { params: ofDevice, ...body(z.strictObject({ name: nameShape })) },
      responses: { 200: answer(deviceShape, "As it is kept now."), ...refusals },
    }),
    async (c) => {
      const pairing = await governed(someone(c.var.who), c.req.valid("param").id);
      const { name } = c.req.valid("json");
      await accounts.renamePairing(pairing.id, name);
      door.sessions.forget();
      return c.json(describe({ ...pairing, name }), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "delete",
      path: "/devices/{id}",
      summary:
        "Withdraw a device that was lost, stolen or given away: its cookie opens nothing from then on, its sessions are over",
      request: { params: ofDevice },
      responses: { 204: { description: "It is withdrawn." }, ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const pairing = await governed(who, c.req.valid("param").id);
      await accounts.withdrawPairing(pairing.id, now());
      door.sessions.forget();
      await door.audit.write(
        pairing.owner ?? who.person,
        "device",
        "withdrawn",
        { ...office.from(c), pairing },
        who.person,
      );
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/sealing-key",
      summary: "The key that a device seals a second person's PIN to while it is alone",
      responses: {
        200: answer(
          z.strictObject({ key: z.string().describe("X25519, 64 hexadecimal digits.") }),
          "It stays the same.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      if (c.var.who === undefined && c.var.pairing === undefined) throw signInFirst();
      return c.json({ key: await door.sealing.publicKey() }, 200);
    },
  );

  return app;
};

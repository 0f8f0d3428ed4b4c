// Owns the routes of people: who there is, what he may do where, his PIN and password, opening what wrong tries have shut, and the audit.

import { isDeepStrictEqual } from "node:util";
import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { Context } from "hono";
import { ROLES } from "../../ledger/index.ts";
import type { AuditAbout, Member, MemberChange, SecretKind } from "../../store/index.ts";
import { badRequest, forbidden, Problem, signInFirst } from "../http/problem.ts";
import { newRoutes } from "../http/routes.ts";
import { answer, body, idShape, momentShape, pageShape, refusals, revisionAsked, revisionTag } from "../http/shapes.ts";
import { type Carried, has, someone, type Who } from "../http/who.ts";
import { nameShape, type PeopleOffice, secretShape } from "./office.ts";
import { foremanAt, mayChange, mayOpen, mayReset, maySee } from "./rules.ts";
import { checkSecret, START, sharedDevice } from "./sign-in.ts";
import { personKey } from "./tries.ts";

const MOST_SITES = 500;
const ofPerson = z.object({ id: idShape });
const rolesShape = z.array(z.enum(ROLES)).max(ROLES.length);
const secretState = z.enum(["none", "start", "own"]).describe("`start`: given by a foreman, to be changed.");

const changeShape = z
  .strictObject({
    name: nameShape,
    skills: z.array(z.string().trim().min(1).max(80)).max(50),
    sites: z
      .record(idShape, rolesShape)
      .refine((sites) => Object.keys(sites).length <= MOST_SITES, `at most ${MOST_SITES} sites`)
      .describe("Roles by site; none, and he belongs there no more."),
    steward: z.boolean().default(false).describe("Keeps the server: adds sites and people anywhere."),
  })
  .openapi("PersonChange");

const memberShape = z
  .strictObject({
    person: z.string(),
    name: z.string(),
    skills: z.array(z.string()),
    sites: z.record(z.string(), z.array(z.string())),
    steward: z.boolean(),
    password: secretState,
    pin: secretState,
    passwordShut: momentShape.nullable().describe("Until when wrong tries have shut it."),
    pinShut: momentShape.nullable(),
  })
  .openapi("Person");

const signInShape = z
  .strictObject({
    id: z.string(),
    at: momentShape,
    person: z.string(),
    how: z.string(),
    outcome: z.string(),
    by: z.string().nullable().describe("Who did it, or asked for the second person."),
    address: z.string(),
    device: z.string().nullable(),
    site: z.string().nullable(),
  })
  .openapi("SignIn");

export const memberRoutes = (office: PeopleOffice): OpenAPIHono<Carried> => {
  const { door } = office;
  const { accounts } = door.store;
  const app = newRoutes();

  const describe = async (members: readonly Member[]): Promise<z.infer<typeof memberShape>[]> => {
    const keys = members.flatMap(({ person }) => [personKey("password", person), personKey("pin", person)]);
    const shut = keys.length === 0 ? {} : await accounts.shutUntil(keys);
    const until = (kind: SecretKind, person: string) => {
      const at = shut[personKey(kind, person)] ?? 0;
      return at > door.now() ? at : null;
    };
    const state = (member: Member, kind: SecretKind) =>
      member[kind] === undefined ? "none" : member[kind].start === undefined ? "own" : "start";
    return members.map((member) => ({
      person: member.person,
      name: member.name,
      skills: [...member.skills],
      sites: Object.fromEntries(Object.entries(member.sites).map(([site, roles]) => [site, [...roles]])),
      steward: member.steward,
      password: state(member, "password"),
      pin: state(member, "pin"),
      passwordShut: until("password", member.person),
      pinShut: until("pin", member.person),
    }));
  };

  const answerWith = async (c: Context<Carried>, member: Member) => {
    const [said] = await describe([member]);
    return c.json(said!, 200, { etag: revisionTag(member.revision) });
  };

  app.openapi(
    createRoute({
      method: "get",
      path: "/people",
      summary: "People whose foreman one is; all of them to a steward",
      request: { query: pageShape },
      responses: {
        200: answer(
          z.strictObject({ people: z.array(memberShape), next: z.string().optional() }),
          "In the order of their ids.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { limit, after } = c.req.valid("query");
      const { items, next } = await accounts.members(limit, after, who.steward ? undefined : foremanAt(who));
      return c.json({ people: await describe(items), ...(next === undefined ? {} : { next }) }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/people/{id}",
      summary: "Somebody: oneself, or whose foreman one is",
      request: { params: ofPerson },
      responses: { 200: answer(memberShape, "With the ETag to change it by."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const member = await office.memberOf(c.req.valid("param").id);
      if (!maySee(who, member)) throw office.nobody(member.person);
      return answerWith(c, member);
    },
  );

  app.openapi(
    createRoute({
      method: "put",
      path: "/people/{id}",
      summary: "Somebody new, or what he is called, can and may do where",
      description: "`If-None-Match: *` for somebody new, else `If-Match` with the ETag that was read.",
      request: { params: ofPerson, ...body(changeShape) },
      responses: { 200: answer(memberShape, "As he is kept now."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { id: person } = c.req.valid("param");
      const { sites: given, ...rest } = c.req.valid("json");
      const sites = Object.fromEntries(
        Object.entries(given)
          .filter(([, roles]) => roles.length > 0)
          .map(([site, roles]) => [site, [...new Set(roles)]]),
      );
      const revision = revisionAsked(c.req);
      if (revision === undefined) throw badRequest(["changeUnsaid"], ["sendTag"]);
      const before = await accounts.member(person);
      const change = { person, ...rest, sites };
      if (before !== undefined && before.revision === revision + 1 && isSame(before, change))
        return answerWith(c, before);
      // What he may is judged on what was read here: a revision that is not yet there must not be guessed.
      if ((before?.revision ?? 0) !== revision) throw new Problem(412, "stale", ["changedSince"], ["readThenChange"]);
      mayChange(who, before, change);
      for (const site of Object.keys(sites))
        if (before?.sites[site] === undefined && (await door.store.site(site)) === undefined)
          throw badRequest(["noSite", site], ["stewardAdds"]);
      // A record that an order left in the directory becomes somebody who may sign in.
      const there = before === undefined ? await door.store.person(person) : undefined;
      const member = await accounts.saveMember(change, there?.revision ?? revision);
      door.sessions.forget();
      await door.audit.write(person, "roles", "changed", office.from(c), who.person);
      return answerWith(c, member);
    },
  );

  /** A new secret: one's own against the old one, or a start secret from whoever may. */
  const change = async (
    c: Context<Carried>,
    person: string,
    kind: SecretKind,
    given: { readonly new: string; readonly password?: string | undefined; readonly pin?: string | undefined },
  ): Promise<void> => {
    const who = someone(c.var.who);
    const from = office.from(c);
    const member = await office.memberOf(person);
    const isOwn = who.person === person;
    if (isOwn) await proveOwn(who, kind, given, c);
    else mayReset(who, member);
    checkSecret(kind, given.new, [person, member.name]);
    const secret = {
      hash: await door.secrets.hash(given.new),
      start: isOwn ? undefined : door.now() + START,
    };
    if (!(await accounts.setSecret(person, kind, secret, member[kind]?.hash)))
      throw new Problem(409, "clash", ["changedNow"], ["readAgain"]);
    // Whoever came in by the old one is out, whoever he was.
    const { session } = c.var;
    await door.sessions.end({ person, ...(isOwn && session !== undefined ? { except: session.digest } : {}) });
    if (!isOwn) await accounts.forgive([personKey(kind, person)]);
    await door.audit.write(person, kind, "changed", from, who.person);
  };

  /** The old secret: a password for either, a PIN for a PIN alone, on a tablet that takes PINs. */
  const proveOwn = async (
    who: Who,
    kind: SecretKind,
    { password, pin }: { readonly password?: string | undefined; readonly pin?: string | undefined },
    c: Context<Carried>,
  ): Promise<void> => {
    const from = office.from(c);
    if (password !== undefined) await door.prove(who.person, "password", password, from);
    else if (kind === "pin" && pin !== undefined) {
      sharedDevice(from.pairing);
      await door.prove(who.person, "pin", pin, from);
    } else throw forbidden(kind === "pin" ? ["noOldPin"] : ["noOldPassword"], ["giveOld"]);
  };

  app.openapi(
    createRoute({
      method: "put",
      path: "/people/{id}/pin",
      summary: "A new PIN: one's own, or a start PIN that is changed when it is first used",
      request: {
        params: ofPerson,
        ...body(
          z.strictObject({
            new: z.string().max(20),
            pin: z.string().max(20).optional().describe("One's old one."),
            password: secretShape.optional().describe("Or one's password."),
          }),
        ),
      },
      responses: { 204: { description: "It is set; other sessions of his are over." }, ...refusals },
    }),
    async (c) => {
      await change(c, c.req.valid("param").id, "pin", c.req.valid("json"));
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "put",
      path: "/people/{id}/password",
      summary: "A new password: one's own, or a start password that is changed when it is first used",
      request: {
        params: ofPerson,
        ...body(z.strictObject({ new: secretShape, password: secretShape.optional().describe("One's old one.") })),
      },
      responses: { 204: { description: "It is set; other sessions of his are over." }, ...refusals },
    }),
    async (c) => {
      await change(c, c.req.valid("param").id, "password", c.req.valid("json"));
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/people/{id}/unlock",
      summary: "Open what wrong tries have shut",
      request: { params: ofPerson },
      responses: { 204: { description: "He may try again, by password and by PIN." }, ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const member = await office.memberOf(c.req.valid("param").id);
      mayOpen(who, member);
      const { person } = member;
      await accounts.forgive([personKey("password", person), personKey("pin", person)]);
      await door.audit.write(person, "sessions", "opened", office.from(c), who.person);
      return c.body(null, 204);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/sites/{id}/people",
      summary: "The people of a site: to its own, and by name to its paired tablets before anybody is signed in",
      request: { params: ofPerson, query: pageShape },
      responses: {
        200: answer(
          z.strictObject({
            people: z.array(
              z.strictObject({
                person: z.string(),
                name: z.string(),
                roles: z.array(z.string()).optional(),
                skills: z.array(z.string()).optional(),
              }),
            ),
            next: z.string().optional(),
          }),
          "In the order of their ids.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const { who, pairing } = c.var;
      const { id: site } = c.req.valid("param");
      const { limit, after } = c.req.valid("query");
      const isTablet = pairing?.site === site && pairing.owner === undefined;
      const belongs = who !== undefined && (who.steward || has(who, site));
      if (!(isTablet || belongs)) {
        if (who === undefined) throw signInFirst();
        throw forbidden(["notOfSite", who.name], ["askItsForeman"]);
      }
      const { items, next } = await accounts.members(limit, after, [site]);
      const people = items.map(({ person, name, skills, sites }) =>
        belongs ? { person, name, roles: [...(sites[site] ?? [])], skills: [...skills] } : { person, name },
      );
      return c.json({ people, ...(next === undefined ? {} : { next }) }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/sign-ins",
      summary:
        "What was tried and done at the door, the latest first: of one's sites to a foreman, of oneself to anybody",
      request: { query: pageShape.extend({ person: idShape.optional() }) },
      responses: {
        200: answer(
          z.strictObject({ signIns: z.array(signInShape), next: z.string().optional() }),
          "Tries while a door was shut are not written.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { limit, after, person } = c.req.valid("query");
      const { items, next } = await accounts.signIns(limit, after, await wanted(who, person));
      const signIns = items.map(({ by = null, device = null, site = null, ...line }) => ({
        ...line,
        by,
        device,
        site,
      }));
      return c.json({ signIns, ...(next === undefined ? {} : { next }) }, 200);
    },
  );

  const wanted = async (who: Who, person: string | undefined): Promise<AuditAbout | undefined> => {
    const sites = foremanAt(who);
    if (person !== undefined) {
      if (person !== who.person && !who.steward && !maySee(who, await office.memberOf(person)))
        throw office.nobody(person);
      return { person };
    }
    if (who.steward) return undefined;
    if (sites.length === 0) throw forbidden(["foremanOfNone", who.name], ["askOwn"]);
    return { sites };
  };

  return app;
};

/** Whether a change is there already: who got no answer sends it again. */
const isSame = (member: Member, { name, skills, steward, sites }: MemberChange): boolean =>
  isDeepStrictEqual([member.name, member.skills, member.steward, member.sites], [name, skills, steward, sites]);

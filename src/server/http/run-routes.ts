// Owns the routes of runs: how one stands, its gates and shift page, entries in and out, and what a device brings that was alone.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { GATES, type Role, readEntry, sentence, type Told } from "../../ledger/index.ts";
import type { Run } from "../../store/index.ts";
import { type NotTaken, openRun, type RunDesk, sayNotTaken, type Taking } from "../desk/index.ts";
import type { Wrong } from "../refusals.ts";
import { gateDocument, runDocument, shiftDocument, takenInDocument } from "../run-documents.ts";
import { describeGates, describeReception, describeRun, describeShift } from "../standing.ts";
import { sayShape } from "./entry-shapes.ts";
import type { Office } from "./office.ts";
import { badRequest, forbidden, notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { seenRun } from "./seen-run.ts";
import { answer, body, idShape, momentShape, pageShape, refusals } from "./shapes.ts";
import { type Carried, demand, has, someone, type Who } from "./who.ts";

/** Who may enter anything at all; what only some may, the ledger's rules know. */
const WRITERS: readonly Role[] = ["mechanic", "verifier", "lift approver", "foreman", "storeman", "instructor"];
/** Entries of one request: a device that was alone for an hour has some three hundred. */
const MOST = 1000;

/** Times that a device changes hands while it is alone. */
const MOST_HANDS = 50;

/** Milliseconds by which the clock of a device may be slow. */
const SKEW = 300_000;

const ofRun = z.object({ run: idShape });

const runShape = z
  .strictObject({
    run: z.string(),
    site: z.string(),
    order: z.string(),
    vehicle: z.string(),
    version: z.int(),
    plan: z.string().describe("That it was begun with."),
    opened: momentShape,
    by: z.string(),
    closed: momentShape.nullable(),
    entries: z.int().describe("The position of its last entry."),
  })
  .openapi("Run");

const describe = ({ id, length, closed, ...run }: Run): z.infer<typeof runShape> => ({
  run: id,
  ...run,
  closed: closed ?? null,
  entries: length,
});

const saidShape = z
  .strictObject({
    id: z.string().describe("A UUID of version 7, made by whoever enters it: sent again, it is the same entry."),
    say: sayShape,
    sure: z.boolean().optional().describe("A torque that does not fit was looked at again, and was read so."),
    second: z
      .strictObject({ person: idShape, pin: z.string().max(20) })
      .optional()
      .describe("Whose entry it is, where that is not who is signed in: with his own PIN, at this moment."),
  })
  .openapi("Said");

const outcomeShape = z.looseObject({
  id: z.string(),
  told: z.array(z.string()).describe("The entry as it was signed, and what followed from it."),
  warnings: z.array(z.string()),
  refused: z.looseObject({ what: z.string(), mend: z.string() }).optional(),
  replan: z.looseObject({}).optional().describe("What a finding changed."),
});

export const runRoutes = (office: Office): OpenAPIHono<Carried> => {
  const { store, desks, world, vouching, directory } = office;
  const app = newRoutes();

  /** A run that somebody may see; of one at a site that is not his he is told no more than of one that is not there. */
  const seen = (who: Who | undefined, id: string) => seenRun(desks, who, id);
  const deskFor = async (who: Who | undefined, id: string): Promise<RunDesk> => {
    await seen(who, id);
    return desks.at(id);
  };

  app.openapi(
    createRoute({
      method: "get",
      path: "/runs",
      summary: "The runs of one's sites",
      request: { query: pageShape },
      responses: {
        200: answer(
          z.strictObject({ runs: z.array(runShape), next: z.string().optional() }),
          "In the order of their ids.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { limit, after } = c.req.valid("query");
      const { items, next } = await store.runs(limit, after, [...who.sites.keys()]);
      return c.json({ runs: items.map(describe), ...(next === undefined ? {} : { next }) }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "put",
      path: "/runs/{run}",
      summary: "Begin the run of an order, by the order's id",
      request: { params: ofRun },
      responses: { 200: answer(runShape, "It is begun, now or before."), ...refusals },
    }),
    async (c) => {
      const { run: id } = c.req.valid("param");
      const order = await store.order(id);
      if (order === undefined || !has(someone(c.var.who), order.value.site))
        throw notFound(["noOrder", id], ["seeOrders"]);
      const who = demand(c.var.who, order.value.site, "foreman", "mechanic", "instructor");
      return c.json(describe(await openRun(store, id, who.person, world.now())), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/runs/{run}",
      summary: "How a run stands",
      request: { params: ofRun },
      responses: {
        200: answer(runDocument, "With an ETag that changes with every entry."),
        304: { description: "As it was." },
        ...refusals,
      },
    }),
    async (c) => {
      const desk = await deskFor(c.var.who, c.req.valid("param").run);
      const tag = `"p${desk.position}"`;
      if (c.req.header("if-none-match") === tag) return c.body(null, 304);
      return c.json(describeRun(desk), 200, { etag: tag });
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/runs/{run}/record",
      summary:
        "What a device must know to work a run alone, beside its entries: the plan's brief, and the keys of the devices",
      request: { params: ofRun },
      responses: {
        200: answer(
          z.strictObject({
            run: z.looseObject({ id: z.string() }),
            brief: z.looseObject({}).describe("Of the plan in force."),
            keys: z.record(z.string(), z.string()).describe("By device its public key, Ed25519."),
            damages: z.array(z.string()).describe("What is not as it was written; no gate opens over it."),
            position: z.int(),
          }),
          "As of a position: what is behind it comes live.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const desk = await deskFor(c.var.who, c.req.valid("param").run);
      const keys = Object.fromEntries(await desk.keys());
      const { run, brief, damages, position } = desk;
      return c.json({ run: { ...run, closed: run.closed ?? null }, brief, keys, damages, position }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/runs/{run}/gates",
      summary: "Is it open? Else what is missing, where, and who could do it",
      request: {
        params: ofRun,
        query: z.object({ gate: z.enum(GATES).optional(), lift: z.string().max(200).optional() }),
      },
      responses: { 200: answer(gateDocument, "Every gate, or the one that was named."), ...refusals },
    }),
    async (c) => {
      const desk = await deskFor(c.var.who, c.req.valid("param").run);
      const { gate, lift } = c.req.valid("query");
      if (lift !== undefined && !desk.brief.lifts.some(({ task }) => task === lift))
        throw notFound(["noLift", lift], ["itHas", desk.brief.lifts.map(({ task }) => task)]);
      return c.json(describeGates(desk, gate, lift), 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/runs/{run}/shift",
      summary: "The page for whoever takes over",
      request: { params: ofRun },
      responses: {
        200: answer(shiftDocument, "What is half done, where parts lie, what waits for whom."),
        ...refusals,
      },
    }),
    async (c) => c.json(describeShift(await deskFor(c.var.who, c.req.valid("param").run)), 200),
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/runs/{run}/entries",
      summary: "Entries behind a position, letter for letter as they were signed",
      request: {
        params: ofRun,
        query: z.object({
          behind: z.coerce.number().int().min(0).default(0).openapi({ type: "integer" }),
          limit: z.coerce.number().int().min(1).max(5000).default(500),
        }),
      },
      responses: {
        200: answer(
          z.strictObject({
            entries: z.array(z.strictObject({ position: z.int(), text: z.string() })),
            next: z.int().optional().describe("Ask for what is behind it."),
          }),
          "In the order in which they became durable, without gap.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const run = await seen(c.var.who, c.req.valid("param").run);
      const { behind, limit } = c.req.valid("query");
      const kept = await store.entries(run.id, behind, limit + 1);
      const entries = kept.slice(0, limit).map(({ position, text }) => ({ position, text }));
      const next = kept.length > limit ? entries.at(-1)?.position : undefined;
      return c.json({ entries, ...(next === undefined ? {} : { next }) }, 200);
    },
  );

  /** Whose entry it is: of who is signed in, or of a second person with his own PIN. */
  const authorOf = async (who: Who, site: string, { second }: z.infer<typeof saidShape>): Promise<string> => {
    if (second === undefined) return who.person;
    if (second.person === who.person) throw forbidden(["signedInHimself", who.name], ["secondIsOther"]);
    await vouching.attest(second.person, second.pin, who, site);
    return second.person;
  };

  /** What somebody may do at a site as of now, whatever an order of long ago gave him. */
  const rolesOf = async (who: Who, author: string, site: string): Promise<readonly string[]> =>
    (author === who.person ? who.sites.get(site) : (await directory.member(author))?.sites[site]) ?? [];

  /** Why he may not enter this; undefined where he may, as far as roles go: the rest the ledger's rules know. */
  const barred = async (
    who: Who,
    author: string,
    site: string,
    { kind, ...said }: { readonly kind: string; readonly gate?: unknown },
  ): Promise<Wrong | undefined> => {
    const roles = await rolesOf(who, author, site);
    if (!WRITERS.some((role) => roles.includes(role))) return ["entersNothing", author];
    const asksApprover = kind === "override" || (kind === "approval" && said.gate === "lift");
    return asksApprover && !roles.includes("lift approver") ? ["noApprover", author] : undefined;
  };

  app.openapi(
    createRoute({
      method: "post",
      path: "/runs/{run}/entries",
      summary: "Enter what was done, found, verified or handed over",
      request: {
        params: ofRun,
        ...body(z.strictObject({ entries: z.array(saidShape).min(1).max(MOST) })),
      },
      responses: {
        200: answer(z.strictObject({ entries: z.array(outcomeShape), position: z.int() }), "All are on the disk."),
        ...refusals,
      },
    }),
    async (c) => {
      const run = await seen(c.var.who, c.req.valid("param").run);
      const who = demand(c.var.who, run.site, ...WRITERS);
      const { entries } = c.req.valid("json");
      const authors: string[] = [];
      for (const said of entries) authors.push(await authorOf(who, run.site, said));
      for (const [index, { say }] of entries.entries()) {
        const why = await barred(who, authors[index] ?? who.person, run.site, say);
        if (why !== undefined) throw forbidden(why, ["foremanGivesRoles"]);
      }
      const desk = await desks.at(run.id);
      // All at once, so that they are judged one after the other and made durable together.
      const takings = await Promise.all(
        entries.map(({ id, say, sure = false }, index) => desk.take(authors[index] ?? who.person, say, { id, sure })),
      );
      const outcomes = takings.map((taking, index) => outcomeOf(entries[index]?.id ?? "", taking));
      const refused = outcomes.find((one) => one.refused !== undefined)?.refused;
      if (refused === undefined) return c.json({ entries: outcomes, position: desk.position }, 200);
      throw new Problem(409, "refused", ...refused.phrases, {
        entries: outcomes,
        ...(refused.gates === undefined ? {} : { gates: refused.gates }),
      });
    },
  );

  app.openapi(
    createRoute({
      method: "post",
      path: "/runs/{run}/told",
      summary: "Bring what a device wrote while it was alone: all of it or nothing",
      request: {
        params: ofRun,
        ...body(
          z.strictObject({
            key: z
              .string()
              .regex(/^[0-9a-f]{64}$/)
              .describe("The device's public key, Ed25519."),
            told: z.array(z.string().max(40_000)).min(1).max(MOST).describe("Entries as they were signed."),
            seals: z
              .record(z.string(), z.string().max(1000))
              .default({})
              .describe(
                "By entry the PIN of its author, sealed to this server, where he was not signed in on the device.",
              ),
            hands: z
              .array(z.strictObject({ id: z.uuidv7(), person: idShape, seal: z.string().max(1000) }))
              .max(MOST_HANDS)
              .default([])
              .describe(
                "Who took up the device while it was alone, in that order: the id is a UUID of version 7 of the moment, the seal his PIN, sealed to this server for it.",
              ),
          }),
        ),
      },
      responses: { 200: answer(takenInDocument, "They are on the disk, each once."), ...refusals },
    }),
    async (c) => {
      const run = await seen(c.var.who, c.req.valid("param").run);
      const who = demand(c.var.who, run.site, ...WRITERS);
      const { key, told: texts, seals, hands } = c.req.valid("json");
      const told: Told[] = texts.map((text, index) => {
        const reading = readEntry(text);
        if ("told" in reading) return reading.told;
        throw badRequest(["noEntry", index + 1, texts.length], ["letterForLetter"], {
          faults: reading.faults.map(sentence),
        });
      });
      const device = told[0]?.entry.device ?? "";
      if (told.some(({ entry }) => entry.device !== device)) throw badRequest(["severalDevices"], ["eachItsOwn"]);
      const notTaken = (why: readonly NotTaken[]) => {
        const faults = why.map(sayNotTaken);
        return new Problem(409, "not-taken", ["notTaken", faults.join("; ")], ["mendAndSend"], { faults, why });
      };
      for (const { id, person, seal } of hands) {
        const why: Wrong | undefined =
          who.device === device ? await vouching.attestTakenUp(person, seal, id, who, run.site) : ["otherDevice"];
        if (why !== undefined) throw notTaken([{ entry: id, why }]);
      }
      const since = (c.var.session?.opened ?? Number.POSITIVE_INFINITY) - SKEW;
      const wrong = new Set<string>();
      const vouch = async ({ id, author, at, body }: Told["entry"]): Promise<Wrong | undefined> => {
        const why = await barred(who, author, run.site, body);
        if (why !== undefined) return why;
        if (author === who.person && who.device === device && at >= since) return undefined;
        const seal = seals[id];
        if (seal !== undefined && (await vouching.attestSealed(author, seal, id, who, run.site, wrong)))
          return undefined;
        if (await vouching.wasPresent(author, device, at)) return undefined;
        return seal === undefined ? ["wasNotHere", author] : ["otherPin", author];
      };
      const desk = await desks.at(run.id);
      const reception = await desk.receive(told, new Map([[device, key]]), vouch);
      if (reception.faults.length === 0) return c.json(describeReception(desk, reception), 200);
      throw notTaken(reception.faults);
    },
  );

  return app;
};

const outcomeOf = (id: string, taking: Taking) =>
  "refused" in taking
    ? { id, told: [], warnings: [], refused: taking.refused }
    : {
        id,
        told: taking.told.map(({ text }) => text),
        warnings: taking.warnings,
        ...(taking.replan === undefined ? {} : { replan: taking.replan }),
      };

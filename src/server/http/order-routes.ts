// Owns the routes of orders: jobs on a vehicle for a site's people, planned by the server, kept once.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import { type BriefPerson, ROLES, type Role } from "../../ledger/index.ts";
import { type Order as Asked, type Crew, readCrew } from "../../plan/index.ts";
import type { Order } from "../../store/index.ts";
import { sentence } from "../../vehicle/index.ts";
import { orderBodyOf, type PlanBody, takeOrder } from "../order.ts";
import { saidFirst } from "../refusals.ts";
import { orderDocument, runListDocument } from "../run-documents.ts";
import { describeOrders, describeTaken } from "../standing.ts";
import type { Office } from "./office.ts";
import { badRequest, notFound, Problem } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { answer, body, idShape, pageShape, refusals } from "./shapes.ts";
import { type Carried, demand, has, someone, type Who } from "./who.ts";

const ids = z.array(z.string().min(1).max(200)).max(200).default([]);

const givenShape = z
  .strictObject({
    site: idShape,
    vehicle: idShape,
    version: z.int().min(1).optional().describe("The latest when left out."),
    jobs: z.array(z.string().min(1).max(200)).min(1).max(50),
    people: z.array(idShape).min(2).max(100).describe("Of the site; what each may do is what he may do there."),
    keep: ids.describe("Parts that may not go up with any lift."),
    take: ids.describe("Parts that must go up with a lift."),
    released: ids.describe("Connections already released."),
    crew: z
      .strictObject({ path: z.string().max(200), text: z.string().max(100_000) })
      .optional()
      .describe(
        "A crew file: when its people are there, what there is of each tool, how they go. Absent: always there.",
      ),
    hoist: z.string().min(1).max(200).optional(),
    withoutTools: ids.describe("Tools that are not to be had."),
    machine: idShape.optional().describe("The serial number."),
    options: z.array(z.string().min(1).max(200)).max(50).default([]).describe("Options that this machine has."),
  })
  .openapi("OrderGiven");

const ofOrder = z.object({ order: idShape });

export const orderRoutes = (office: Office): OpenAPIHono<Carried> => {
  const { store, world, planning, directory } = office;
  const app = newRoutes();

  const seen = async (who: Who | undefined, id: string): Promise<Order> => {
    const asked = someone(who);
    const order = await store.order(id);
    if (order === undefined || !has(asked, order.value.site)) throw notFound(["noOrder", id], ["seeList"]);
    return order.value;
  };
  const planOf = async (id: string): Promise<PlanBody> => {
    const plan = await store.plan(`${id}.p1`);
    if (plan === undefined) throw notFound(["noPlanYet", id], ["orderAgain"]);
    return plan.body as PlanBody;
  };
  const describe = async ({ id, version, machine }: Order) => {
    const { plan, brief } = await planOf(id);
    const record = machine === undefined ? undefined : (await store.machine(machine))?.value.body;
    const differences = (record as { readonly differences?: [] } | undefined)?.differences ?? [];
    return describeTaken({ id, version, plan: `${id}.p1`, brief, differences }, plan);
  };

  app.openapi(
    createRoute({
      method: "get",
      path: "/orders",
      summary: "The orders of one's sites, with how far each is",
      request: { query: pageShape },
      responses: {
        200: answer(runListDocument.extend({ next: z.string().optional() }), "In the order of their ids."),
        ...refusals,
      },
    }),
    async (c) => {
      const { limit, after } = c.req.valid("query");
      const { items, next } = await store.orders(limit, after, [...someone(c.var.who).sites.keys()]);
      return c.json({ ...(await describeOrders(store, items)), ...(next === undefined ? {} : { next }) }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/orders/{order}",
      summary: "An order as it was taken",
      request: { params: ofOrder },
      responses: { 200: answer(orderDocument, "With what its plan takes apart."), ...refusals },
    }),
    async (c) => c.json(await describe(await seen(c.var.who, c.req.valid("param").order)), 200),
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/orders/{order}/plan",
      summary: "The plan of an order, whole, out and back",
      request: { params: ofOrder },
      responses: {
        200: answer(
          z.looseObject({
            plan: z.looseObject({}),
            brief: z.looseObject({}),
            order: z.looseObject({}),
            vehicle: z.string(),
            version: z.int(),
          }),
          "As kept, with the vehicle's version that it is of.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const { id, vehicle, version, body: order } = await seen(c.var.who, c.req.valid("param").order);
      return c.json({ ...(await planOf(id)), order, vehicle, version }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "put",
      path: "/orders/{order}",
      summary: "Take an order: planned, and kept with everything that its run will need",
      request: { params: ofOrder, ...body(givenShape) },
      responses: {
        200: answer(orderDocument, "It is kept, now or before."),
        202: answer(
          z.looseObject({ question: z.string(), state: z.string() }),
          "The plan is not found yet: ask again, the same, and it goes on from there.",
        ),
        ...refusals,
      },
    }),
    async (c) => {
      const { order: id } = c.req.valid("param");
      const given = c.req.valid("json");
      const who = demand(c.var.who, given.site, "foreman");
      const kept = await store.vehicle(given.vehicle, given.version);
      if (kept === undefined)
        throw notFound(
          given.version === undefined
            ? ["noVehicle", given.vehicle]
            : ["noVehicleVersion", given.vehicle, given.version],
          ["keepFirst"],
        );
      const people = await Promise.all(given.people.map((person) => memberOf(person, given.site)));
      const asked = askedOf(given, people);
      const crew = crewOf(given);
      const there = await store.order(id);
      if (there !== undefined) {
        const same =
          there.value.site === given.site &&
          there.value.vehicle === given.vehicle &&
          there.value.version === kept.version &&
          JSON.stringify(there.value.body) === JSON.stringify(orderBodyOf({ asked, people, ...crew }));
        if (!same || !has(who, there.value.site)) throw new Problem(409, "clash", ["orderTaken", id], ["ownId"]);
        if ((await store.plan(`${id}.p1`)) !== undefined) return c.json(await describe(there.value), 200);
      }
      const planned = await planning.plan({ vehicle: given.vehicle, version: kept.version }, asked, who.person);
      if ("waiting" in planned) return c.json({ question: planned.waiting, state: planned.state }, 202);
      if ("refused" in planned)
        throw new Problem(409, "no-plan", planned.refused.what, planned.refused.mend, planned.refused.more);
      const { machine } = given;
      const taken = await takeOrder(store, {
        id,
        site: given.site,
        vehicleId: given.vehicle,
        files: kept.files,
        version: kept.version,
        vehicle: planned.vehicle,
        asked,
        plan: planned.plan,
        people,
        ...crew,
        ...(machine === undefined ? {} : { machine }),
        options: given.options,
        by: who.person,
        now: world.now(),
      });
      return c.json(describeTaken(taken, planned.plan), 200);
    },
  );

  const memberOf = async (id: string, site: string): Promise<BriefPerson> => {
    const member = await directory.member(id);
    const roles = (member?.sites[site] ?? []).filter((role): role is Role =>
      (ROLES as readonly string[]).includes(role),
    );
    if (member === undefined || roles.length === 0) throw badRequest(["nobodyOfSite", id], ["seePeopleOfSite"]);
    return { id, label: member.name, roles, skills: member.skills };
  };

  return app;
};

/** The crew file's crew, whose people are those of the order. @throws Problem 400, every fault with its place */
const crewOf = ({ crew: file, people }: z.infer<typeof givenShape>): { readonly crew?: Crew } => {
  if (file === undefined) return {};
  const { crew, faults } = readCrew(file.path, file.text);
  if (crew === undefined)
    throw badRequest(["crewFaults"], ["asItSays", saidFirst(faults.map(sentence))], {
      faults: faults.map((fault) => ({ ...fault, sentence: sentence(fault) })),
    });
  const stranger = crew.people.find(({ id }) => !people.includes(id));
  if (stranger !== undefined) throw badRequest(["crewStranger", stranger.id], ["sameInBoth"]);
  return { crew };
};

/** What the planner is asked: those of the people who work count, with their skills. */
const askedOf = (given: z.infer<typeof givenShape>, people: readonly BriefPerson[]): Asked => {
  const { jobs, keep, take, released, hoist, withoutTools } = given;
  const workers = people.filter(({ roles }) => roles.includes("mechanic"));
  return {
    jobs,
    keep,
    take,
    released,
    ...(hoist === undefined ? {} : { hoist }),
    ...(withoutTools.length === 0 ? {} : { withoutTools }),
    people: workers.map(({ id, label, skills }) => ({ id, label, skills })),
  };
};

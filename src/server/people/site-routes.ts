// Owns the routes of sites: which there are, and their making.

import { createRoute, type OpenAPIHono, z } from "@hono/zod-openapi";
import type { Site } from "../../store/index.ts";
import { badRequest, notFound } from "../http/problem.ts";
import { newRoutes } from "../http/routes.ts";
import { answer, body, idShape, refusals, revisionAsked, revisionTag } from "../http/shapes.ts";
import { type Carried, has, someone } from "../http/who.ts";
import { nameShape, type PeopleOffice } from "./office.ts";
import { demandSteward } from "./rules.ts";
import { zoneOf, zoneShape } from "./zone.ts";

const siteShape = z.strictObject({ site: z.string(), label: z.string(), zone: zoneShape }).openapi("Site");
const ofSite = z.object({ id: idShape });

const describe = (site: Site): z.infer<typeof siteShape> => ({ site: site.id, label: site.label, zone: zoneOf(site) });

export const siteRoutes = (office: PeopleOffice): OpenAPIHono<Carried> => {
  const { door } = office;
  const { store } = door;
  const app = newRoutes();

  app.openapi(
    createRoute({
      method: "get",
      path: "/sites",
      summary: "One's sites; all of them to a steward",
      responses: {
        200: answer(z.strictObject({ sites: z.array(siteShape) }), "In the order of their ids."),
        ...refusals,
      },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const seen = (await store.sites()).filter(({ value }) => who.steward || has(who, value.id));
      return c.json({ sites: seen.map(({ value }) => describe(value)) }, 200);
    },
  );

  app.openapi(
    createRoute({
      method: "get",
      path: "/sites/{id}",
      summary: "A site",
      request: { params: ofSite },
      responses: { 200: answer(siteShape, "With the ETag to change it by."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      const { id } = c.req.valid("param");
      const site = who.steward || has(who, id) ? await store.site(id) : undefined;
      if (site === undefined) throw notFound(["noSite", id], ["seeSites"]);
      return c.json(describe(site.value), 200, { etag: revisionTag(site.revision) });
    },
  );

  app.openapi(
    createRoute({
      method: "put",
      path: "/sites/{id}",
      summary: "A new site, whose foreman is who makes it; or what it is called, and its time zone",
      description: "`If-None-Match: *` for a new one, else `If-Match` with the ETag that was read.",
      request: { params: ofSite, ...body(z.strictObject({ label: nameShape, zone: zoneShape.optional() })) },
      responses: { 200: answer(siteShape, "As it is kept now."), ...refusals },
    }),
    async (c) => {
      const who = someone(c.var.who);
      demandSteward(who);
      const { id } = c.req.valid("param");
      const { label, zone } = c.req.valid("json");
      const revision = revisionAsked(c.req);
      if (revision === undefined) throw badRequest(["changeUnsaid"], ["sendTag"]);
      const there = await store.site(id);
      const saved = await store.saveSite(
        { id, label, body: { ...(there?.value.body ?? {}), ...(zone === undefined ? {} : { zone }) } },
        revision,
      );
      if (there === undefined) {
        const maker = await office.memberOf(who.person);
        await store.accounts.saveMember({ ...maker, sites: { ...maker.sites, [id]: ["foreman"] } }, maker.revision);
        door.sessions.forget();
        await door.audit.write(who.person, "roles", "changed", office.from(c), who.person);
      }
      return c.json(describe(saved.value), 200, { etag: revisionTag(saved.revision) });
    },
  );

  return app;
};

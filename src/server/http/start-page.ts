// Owns the page at the server's root: what this is, and where its doors are.

import type { Hono } from "hono";
import type { Carried } from "./who.ts";

const page = (version: string): string => `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Unmoor</title>
<h1>Unmoor ${version}</h1>
<p>A shop's server: its orders, runs, entries and gates.</p>
<p>From another machine: <code>unmoor sign-in</code> with this address, then <code>unmoor run --server</code> with it.</p>
<ul>
<li><a href="/api/openapi.json">What programs may ask here</a> (OpenAPI 3.1)</li>
<li><a href="/ready">Whether it is ready</a></li>
</ul>
<p>A record and a calculation aid: maker's instructions, local rules and a competent person decide.</p></html>
`;

export const startPage = (app: Hono<Carried>, version: string): void => {
  app.get("/", (c) => c.html(page(version)));
};

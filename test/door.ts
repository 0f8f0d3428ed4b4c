// Owns a server's door for tests: the real routes over real HTTP, a clock that is set by hand, and a browser that keeps cookies as browsers do.
import { serve } from "@hono/node-server";
import type { OpenAPIHono } from "@hono/zod-openapi";
import { answerProblem, problemOf } from "../src/server/http/problem.ts";
import { newRoutes } from "../src/server/http/routes.ts";
import type { Carried } from "../src/server/http/who.ts";
import { Doorkeeper, peopleRoutes } from "../src/server/people/index.ts";
import { openStore, type Store } from "../src/store/index.ts";
import { QUICK } from "./serving.ts";

const BEGIN = Date.UTC(2026, 0, 5, 7);

export interface Door {
  readonly door: Doorkeeper;
  readonly origin: string;
  readonly clock: { now: number };
  browser(): Browser;
  close(): Promise<void>;
}

/**
 * @param isSecure as behind HTTPS, which a proxy would speak
 * @param clock shared by several processes of one store
 * @param others routes behind the same door
 */
export async function openDoor(
  store: Store,
  isSecure = false,
  clock = { now: BEGIN },
  others: readonly OpenAPIHono<Carried>[] = [],
): Promise<Door> {
  const door = new Doorkeeper({ store, now: () => clock.now, cost: QUICK });
  const { routes, identify } = peopleRoutes(door, isSecure, (c) => c.req.header("x-test-address") ?? "192.0.2.1");
  const app = newRoutes();
  app.onError((error, c) => {
    const problem = problemOf(error);
    if (problem.status === 500) faults.push(error);
    return answerProblem(c, problem);
  });
  const faults: unknown[] = [];
  for (const one of identify) app.use(one);
  for (const one of [routes, ...others]) app.route("/api", one);
  const server = serve({ fetch: app.fetch, port: 0, hostname: "127.0.0.1" });
  await new Promise((resolve) => server.once("listening", resolve));
  const address = server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;
  const origin = `http://localhost:${port}`;
  return {
    door,
    origin,
    clock,
    browser: () => new Browser(origin),
    async close() {
      await new Promise((resolve) => server.close(resolve));
      if (faults.length > 0) throw faults[0];
    },
  };
}

export interface Answer {
  readonly status: number;
  // biome-ignore lint/suspicious/noExplicitAny: what comes over the wire is looked at field by field, by tests alone.
  readonly body: any;
  readonly headers: Headers;
}

export class Browser {
  readonly jar = new Map<string, string>();
  /** The `set-cookie` lines of the last answer. */
  set: string[] = [];
  private readonly origin: string;

  constructor(origin: string) {
    this.origin = origin;
  }

  /** A browser with the same cookies: what a thief has who read them. */
  copy(): Browser {
    const other = new Browser(this.origin);
    for (const [name, value] of this.jar) other.jar.set(name, value);
    return other;
  }

  get = (path: string, headers?: Record<string, string>) => this.ask("GET", path, undefined, headers);
  post = (path: string, body?: unknown, headers?: Record<string, string>) => this.ask("POST", path, body, headers);
  put = (path: string, body: unknown, headers?: Record<string, string>) => this.ask("PUT", path, body, headers);
  delete = (path: string) => this.ask("DELETE", path);

  /** @param headers in place of what a browser on the server's own page says; an empty one is left out */
  async ask(method: string, path: string, body?: unknown, headers: Record<string, string> = {}): Promise<Answer> {
    const said: Record<string, string> = {
      origin: this.origin,
      "sec-fetch-site": "same-origin",
      ...(body === undefined ? {} : { "content-type": "application/json" }),
      ...(this.jar.size === 0 ? {} : { cookie: [...this.jar].map(([name, value]) => `${name}=${value}`).join("; ") }),
      ...headers,
    };
    const answer = await fetch(`${this.origin}/api${path}`, {
      method,
      headers: Object.fromEntries(Object.entries(said).filter(([, value]) => value !== "")),
      ...(body === undefined ? {} : { body: typeof body === "string" ? body : JSON.stringify(body) }),
    });
    this.set = answer.headers.getSetCookie();
    for (const line of this.set) {
      const [, name = "", value = ""] = /^([^=]+)=([^;]*)/.exec(line) ?? [];
      if (value === "" || /max-age=0/i.test(line)) this.jar.delete(name);
      else this.jar.set(name, value);
    }
    const text = await answer.text();
    return { status: answer.status, body: text === "" ? undefined : JSON.parse(text), headers: answer.headers };
  }
}

export const PASSWORD = "seven quiet herons";
export const PIN = "7391";

/**
 * A shop of two sites: Ada keeps the server and is foreman of main, Ben and Cy work there; Dora is foreman of north, Eve works there; Finn works at
 * both. Everybody has the same password, and those who work a PIN.
 */
export async function makeShop(store: Store, door: Doorkeeper): Promise<void> {
  const people: readonly (readonly [string, Record<string, string[]>])[] = [
    ["ada", { main: ["foreman"] }],
    ["ben", { main: ["mechanic", "verifier"] }],
    ["cy", { main: ["mechanic"] }],
    ["dora", { north: ["foreman"] }],
    ["eve", { north: ["mechanic"] }],
    ["finn", { main: ["mechanic"], north: ["mechanic"] }],
  ];
  for (const [id, label] of [
    ["main", "The shed"],
    ["north", "The north yard"],
  ] as const)
    await store.saveSite({ id, label, body: {} }, 0);
  const [password, pin] = [await door.secrets.hash(PASSWORD), await door.secrets.hash(PIN)];
  for (const [person, sites] of people) {
    const name = person[0]?.toUpperCase() + person.slice(1);
    await store.accounts.saveMember({ person, name, skills: [], steward: person === "ada", sites }, 0);
    await store.accounts.setSecret(person, "password", { hash: password, start: undefined }, undefined);
    await store.accounts.setSecret(person, "pin", { hash: pin, start: undefined }, undefined);
  }
}

/** The door of the shop of two sites, its store in memory; closed together. */
export async function openShopDoor(): Promise<{ readonly store: Store; readonly at: Door; close(): Promise<void> }> {
  const store = await openStore(":memory:");
  const at = await openDoor(store);
  await makeShop(store, at.door);
  return {
    store,
    at,
    async close() {
      await at.close();
      await store.close();
    },
  };
}

/** Somebody signed in by password on a device of his own. */
export async function signedIn(at: Door, person: string): Promise<Browser> {
  const browser = at.browser();
  const { status } = await browser.post("/sign-in", { person, password: PASSWORD });
  if (status !== 200) throw new Error(`${person} was not let in: ${status}`);
  return browser;
}

/** A tablet that the foreman of a site paired, with nobody signed in. */
export async function pairedTablet(at: Door, foreman: string, name = "Bench tablet"): Promise<Browser> {
  const tablet = await signedIn(at, foreman);
  const { status } = await tablet.post("/devices", { name });
  if (status !== 200) throw new Error(`the tablet was not paired: ${status}`);
  return tablet;
}

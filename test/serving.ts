// Owns a shop's server for tests and benches: the real one over real HTTP, set up as a new user would, and clients of its people.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { Agent, request as httpRequest } from "node:http";
import { request as httpsRequest, Agent as SafeAgent } from "node:https";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { loadServe, type ServeOptions, type Serving } from "../src/server/index.ts";

export const PASSWORD = "seven quiet herons";

/** Everybody of the demo's shop with what he may do. Gwen, who sets it up, keeps the server. */
const PEOPLE: Readonly<Record<string, readonly string[]>> = {
  frida: ["mechanic", "verifier", "foreman"],
  dora: ["mechanic", "verifier", "lift approver"],
  emil: ["mechanic", "verifier"],
};

const SKILLS = ["fitter", "rigger", "electrician", "refrigerant"];
const START = "a start for the herons";

export interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  // biome-ignore lint/suspicious/noExplicitAny: what comes over the wire is looked at field by field, by tests alone.
  readonly body: any;
}

/** One event of a stream. */
export interface Event {
  readonly id: string;
  readonly event: string;
  readonly data: string;
}

/** A program of somebody's, or of nobody's, with a connection kept open for each request at a time. */
export class Client {
  readonly origin: string;
  readonly token: string | undefined;
  readonly authority: string | undefined;
  private readonly agent: Agent;

  constructor(origin: string, token?: string, authority?: string) {
    this.origin = origin;
    this.token = token;
    this.authority = authority;
    this.agent = origin.startsWith("https")
      ? new SafeAgent({ keepAlive: true, ...(authority === undefined ? {} : { ca: authority }) })
      : new Agent({ keepAlive: true });
  }

  ask(method: string, path: string, body?: unknown, headers: Readonly<Record<string, string>> = {}): Promise<Reply> {
    const bytes =
      body === undefined || body instanceof Uint8Array
        ? body
        : Buffer.from(typeof body === "string" ? body : JSON.stringify(body));
    return new Promise((resolve, reject) => {
      const request = this.open(method, path, {
        ...(bytes === undefined ? {} : { "content-type": "application/json", "content-length": String(bytes.length) }),
        ...headers,
      });
      request.on("error", reject);
      request.on("response", (response) => {
        const parts: Buffer[] = [];
        response.on("data", (part: Buffer) => parts.push(part));
        response.on("error", reject);
        response.on("end", () => {
          const text = Buffer.concat(parts).toString("utf8");
          const isJson = /json/.test(response.headers["content-type"] ?? "");
          const { statusCode: status = 0 } = response;
          resolve({ status, headers: response.headers, body: isJson && text !== "" ? JSON.parse(text) : text });
        });
      });
      request.end(bytes);
    });
  }

  /** The body of an answer that must be of the 200s. */
  async get(path: string): Promise<Reply["body"]> {
    return good(await this.ask("GET", path), path);
  }

  async send(method: string, path: string, body?: unknown, headers?: Readonly<Record<string, string>>) {
    return good(await this.ask(method, path, body, headers), path);
  }

  /** Enters something under an id of its own. */
  enter(run: string, id: string, say: Readonly<Record<string, unknown>>): Promise<Reply> {
    return this.ask("POST", `/runs/${run}/entries`, { entries: [{ id, say }] });
  }

  /** Follows a stream until the function that it gives is called, or it ends. */
  follow(
    path: string,
    onEvent: (event: Event) => void,
    behind?: string,
  ): Promise<{ close(): void; ended: Promise<void> }> {
    return new Promise((resolve, reject) => {
      const request = this.open("GET", path, behind === undefined ? {} : { "last-event-id": behind }, false);
      request.on("error", reject);
      request.on("response", (response) => {
        if (response.statusCode !== 200) {
          response.resume();
          reject(new Error(`${path} answers ${response.statusCode}`));
          return;
        }
        let rest = "";
        response.setEncoding("utf8");
        response.on("data", (part: string) => {
          const blocks = (rest + part).split("\n\n");
          rest = blocks.pop() ?? "";
          for (const block of blocks) {
            const event = readEvent(block);
            if (event !== undefined) onEvent(event);
          }
        });
        const ended = new Promise<void>((over) => response.on("close", over).on("error", () => over()));
        resolve({ close: () => request.destroy(), ended });
      });
      request.end();
    });
  }

  close(): void {
    this.agent.destroy();
  }

  private open(method: string, path: string, headers: Readonly<Record<string, string>>, kept = true) {
    const ask = this.origin.startsWith("https") ? httpsRequest : httpRequest;
    return ask(new URL(path.startsWith("//") ? path.slice(1) : `/api${path}`, this.origin), {
      method,
      ...(kept
        ? { agent: this.agent }
        : { agent: false, ...(this.authority === undefined ? {} : { ca: this.authority }) }),
      headers: { ...(this.token === undefined ? {} : { authorization: `Bearer ${this.token}` }), ...headers },
    });
  }
}

const readEvent = (block: string): Event | undefined => {
  const fields = new Map(
    block.split("\n").flatMap((line) => {
      const at = line.indexOf(": ");
      return at <= 0 ? [] : [[line.slice(0, at), line.slice(at + 2)] as const];
    }),
  );
  const data = fields.get("data");
  return data === undefined ? undefined : { id: fields.get("id") ?? "", event: fields.get("event") ?? "", data };
};

const good = ({ status, body }: Reply, path: string): Reply["body"] => {
  if (status >= 300) throw new Error(`${path} answers ${status}: ${JSON.stringify(body)}`);
  return body;
};

/** What a password costs: weak, so that a test takes no time; what is asked of the real one are tests of its own. */
export const QUICK = { N: 16, r: 1, p: 1 };

/** @param thread the computing thread's script, of a bundle */
export const serveShop = async (
  thread: URL,
  options: Partial<ServeOptions> & Pick<ServeOptions, "shop">,
): Promise<Serving> =>
  (await loadServe())({
    host: "127.0.0.1",
    port: 0,
    version: "0.0.0",
    log: () => undefined,
    thread,
    threads: 1,
    cost: QUICK,
    ...options,
  });

/** The first set-up, and the demo's people with passwords of their own; gives a client of each. */
export async function setUp(
  origin: string,
  code: string,
  authority?: string,
): Promise<Readonly<Record<string, Client>>> {
  const nobody = new Client(origin, undefined, authority);
  await nobody.send("POST", "/setup", { code, person: "gwen", name: "Gwen", password: PASSWORD, site: "The shed" });
  const signIn = async (person: string, password = PASSWORD, next?: string): Promise<Client> => {
    const given = { person, password, token: true, ...(next === undefined ? {} : { next }) };
    const { token } = await nobody.send("POST", "/sign-in", given);
    return new Client(origin, token, authority);
  };
  const gwen = await signIn("gwen");
  const clients: Record<string, Client> = { gwen };
  for (const [person, roles] of Object.entries(PEOPLE)) {
    const name = `${person[0]?.toUpperCase()}${person.slice(1)}`;
    const whole = { name, skills: SKILLS, sites: { main: roles }, steward: false };
    await gwen.send("PUT", `/people/${person}`, whole, { "if-none-match": "*" });
    await gwen.send("PUT", `/people/${person}/password`, { new: START });
    clients[person] = await signIn(person, START, PASSWORD);
  }
  nobody.close();
  return clients;
}

const PUMP = "bench-pump";
export const PUMP_FILE = new URL("../demo/bench-pump.vehicle.yaml", import.meta.url);

/** Keeps the bench pump's file and takes an order on it, whose run is begun. */
export async function beginRun(foreman: Client, run: string): Promise<void> {
  const text = await readFile(PUMP_FILE, "utf8");
  await foreman.send("PUT", `/vehicles/${PUMP}`, { files: [{ path: "bench-pump.vehicle.yaml", text }] });
  const order = { site: "main", vehicle: PUMP, jobs: ["shaft-seal"], people: ["dora", "emil", "frida"] };
  for (;;) {
    const { status } = await foreman.ask("PUT", `/orders/${run}`, order);
    if (status === 200) break;
    if (status !== 202) throw new Error(`the order is answered ${status}`);
  }
  await foreman.send("PUT", `/runs/${run}`);
}

/** A folder of its own, and its end. */
export async function temporaryFolder(name: string): Promise<{ readonly path: string; remove(): Promise<void> }> {
  const path = await mkdtemp(join(tmpdir(), `unmoor-${name}-`));
  return { path, remove: () => rm(path, { recursive: true, force: true }) };
}

// Owns the command `people`: who may sign in at a shop's server, what each may do where, and the start secrets that he is given.

import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { type FarShop, farShop } from "./far-shop.ts";
import { refuse } from "./release.ts";
import { faultOf, isServer } from "./server-call.ts";
import { withFaultsSaid } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

/** Somebody as the server tells of him. */
interface Person {
  readonly person: string;
  readonly name: string;
  readonly skills: readonly string[];
  readonly sites: Readonly<Record<string, readonly string[]>>;
  readonly steward: boolean;
  readonly password: string;
  readonly pin: string;
}

export function runPeople(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [address = "", id] = call.operands;
  if (!isServer(address))
    return refuse([{ what: `${address} is no address of a server`, mend: "Write https://HOST:PORT." }], terminal);
  const { flags } = call;
  const changes = ["name", "role", "skill", "steward", "pin", "password"].filter((name) => flags.has(name));
  if (id === undefined && changes.length > 0)
    return refuse([{ what: `--${changes[0]} of whom`, mend: "Name the person behind the server." }], terminal);
  return withFaultsSaid(terminal, async () => {
    const shop = farShop(address, terminal);
    if (id !== undefined && changes.length > 0) await change(shop, id, call, terminal);
    const people = id === undefined ? await everybody(shop) : [await shop.get<Person>(pathOf(id))];
    const document = { format: "unmoor/people/1", people };
    terminal.say(flags.has("json") ? JSON.stringify(document, undefined, 2) : list(people));
    return EXIT.found;
  });
}

const pathOf = (id: string): string => `/people/${encodeURIComponent(id)}`;

async function everybody(shop: FarShop): Promise<readonly Person[]> {
  const people: Person[] = [];
  for (let after = ""; ; ) {
    const page = await shop.get<{ readonly people: readonly Person[]; readonly next?: string }>(
      `/people?limit=200${after}`,
    );
    people.push(...page.people);
    if (page.next === undefined) return people;
    after = `&after=${encodeURIComponent(page.next)}`;
  }
}

/** What is not named stays as it is; roles are those at one site. */
async function change(shop: FarShop, id: string, { flags }: Call, terminal: Terminal): Promise<void> {
  const path = pathOf(id);
  const there = await shop.ask("GET", path, undefined);
  if (there.status >= 400 && there.status !== 404) throw faultOf(shop.address, there);
  const isNew = there.status === 404;
  const before = isNew ? { name: id, skills: [], sites: {}, steward: false } : (there.body as Person);
  const site = flags.get("site")?.[0] ?? "main";
  const roles = flags.get("role");
  const after = {
    name: flags.get("name")?.[0] ?? before.name,
    skills: flags.get("skill") ?? before.skills,
    sites: roles === undefined ? before.sites : { ...before.sites, [site]: roles },
    steward: flags.has("steward") || before.steward,
  };
  const behind: Record<string, string> = isNew ? { "if-none-match": "*" } : { "if-match": there.tag ?? "" };
  if (isNew || ["name", "role", "skill", "steward"].some((name) => flags.has(name)))
    await shop.send("PUT", path, after, behind);
  for (const kind of ["pin", "password"] as const)
    if (flags.has(kind)) {
      const word = kind === "pin" ? "PIN" : "password";
      await shop.send("PUT", `${path}/${kind}`, { new: await terminal.secret(`Start ${word} of ${after.name}: `) });
    }
}

const list = (people: readonly Person[]): string => {
  if (people.length === 0) return "Nobody whose foreman you are.";
  const rows = people.map(({ person, name, sites, steward, skills, password, pin }) => [
    person,
    name,
    [
      ...Object.entries(sites).map(([site, roles]) => `${site}: ${roles.join(", ")}`),
      ...(steward ? ["keeps the server"] : []),
      ...(skills.length === 0 ? [] : [`can ${skills.join(", ")}`]),
    ].join("; "),
    `password ${password}, PIN ${pin}`,
  ]);
  const wide = [0, 1, 2].map((column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows.map((row) => row.map((cell, column) => cell.padEnd(wide[column] ?? 0)).join("  ")).join("\n");
};

// Owns the command `sign-in`: a token for this user at a shop's server, kept readable by him alone.

import { readFileSync } from "node:fs";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { refuse } from "./release.ts";
import { ask, faultOf, isServer, keepPass, passFor } from "./server-call.ts";
import { withFaultsSaid } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

export function runSignIn(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [address = ""] = call.operands;
  const flag = (name: string) => call.flags.get(name)?.[0];
  if (!isServer(address) || !URL.canParse(address))
    return refuse([{ what: `${address} is no address of a server`, mend: "Write https://HOST:PORT." }], terminal);
  return withFaultsSaid(terminal, async () => {
    if (call.flags.has("out")) {
      const pass = passFor(address);
      if (pass !== undefined) await ask(address, "POST", "/sign-out", {}, pass);
      keepPass(address, undefined);
      terminal.say(pass === undefined ? "Nobody was signed in there." : `${pass.person} is signed out.`);
      return EXIT.found;
    }
    const person = flag("by");
    if (person === undefined)
      return refuse([{ what: "sign-in needs --by", mend: "Say who you are: --by WHO." }], terminal);
    const path = flag("authority");
    const given = path === undefined ? passFor(address)?.authority : readAuthority(path);
    if (typeof given === "object") return refuse([given], terminal);
    const trust = given === undefined ? {} : { authority: given };
    if (call.flags.has("set-up")) {
      const [name = person, site = "The shop"] = [flag("name"), flag("shop")];
      const code = await terminal.secret("Code, as the server's console shows it: ");
      const password = await terminal.secret(`New password of ${person}: `);
      const reply = await ask(address, "POST", "/setup", { code, person, name, password, site }, trust);
      if (reply.status >= 400) throw faultOf(address, reply);
      return signIn(address, person, password, trust, terminal);
    }
    const password = await terminal.secret(`Password of ${person}: `);
    return signIn(address, person, password, trust, terminal);
  });
}

/** A start password is changed on the way in. */
async function signIn(
  address: string,
  person: string,
  password: string,
  trust: { readonly authority?: string },
  terminal: Terminal,
  next?: string,
): Promise<Exit> {
  const given = { person, password, token: true, ...(next === undefined ? {} : { next }) };
  const reply = await ask(address, "POST", "/sign-in", given, trust);
  const { token, title, type } = (reply.body ?? {}) as {
    readonly token?: string;
    readonly title?: string;
    readonly type?: string;
  };
  if (next === undefined && type?.endsWith("change-first") === true) {
    terminal.warn(`${title}.`);
    return signIn(address, person, password, trust, terminal, await terminal.secret(`New password of ${person}: `));
  }
  if (token === undefined) throw faultOf(address, reply.status === 401 ? { ...reply, status: 400 } : reply);
  const kept = keepPass(address, { person, token, ...trust });
  terminal.say(`${person} is signed in at ${new URL(address).origin}. Kept in ${kept}.`);
  return EXIT.found;
}

function readAuthority(path: string): string | { readonly what: string; readonly mend: string } {
  try {
    const text = readFileSync(path, "utf8");
    return text.includes("BEGIN CERTIFICATE")
      ? text
      : { what: `${path} holds no certificate`, mend: "Take authority.crt from the server's page." };
  } catch (error) {
    return { what: `${path} cannot be read: ${error instanceof Error ? error.message : error}`, mend: "See the path." };
  }
}

// Owns the command `order` at a server: the vehicle file is kept there, and the server makes the plan itself.

import { readFileSync } from "node:fs";
import type { BriefPerson } from "../ledger/index.ts";
import type { Order } from "../plan/index.ts";
import type { OrderDocument } from "../server/index.ts";
import { type ModelFile, StoreFault } from "../store/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { farShop } from "./far-shop.ts";
import { vehicleIdOf } from "./files.ts";
import { sayOrder } from "./run-text.ts";
import { faultOf } from "./server-call.ts";
import { withFaultsSaid } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

interface Given {
  readonly files: readonly ModelFile[];
  readonly asked: Order;
  readonly people: readonly BriefPerson[];
}

/** Milliseconds between two looks at a plan that is not found yet. */
const PAUSE = 1000;

/** The people of the call must be people of the site; what each may do there is the server's to say. */
export const orderFar = (address: string, call: Call, given: Given, terminal: Terminal): Promise<Exit> =>
  withFaultsSaid(terminal, async () => {
    const flag = (name: string) => call.flags.get(name)?.[0];
    const shop = farShop(address, terminal);
    const path = call.operands[1] ?? "";
    const vehicle = vehicleIdOf(path);
    const id = flag("id") ?? (await nextId(shop, vehicle));
    await shop.send("PUT", `/vehicles/${encodeURIComponent(vehicle)}`, { files: inFolder(given.files) });
    const { jobs, keep, take, released, hoist, withoutTools = [] } = given.asked;
    const machine = flag("machine");
    const body = {
      site: flag("site") ?? "main",
      vehicle,
      jobs,
      people: given.people.map((person) => person.id),
      ...crewFile(call),
      keep,
      take,
      released,
      ...(hoist === undefined ? {} : { hoist }),
      withoutTools,
      ...(machine === undefined ? {} : { machine }),
      options: call.flags.get("option") ?? [],
    };
    for (;;) {
      const reply = await shop.ask("PUT", `/orders/${encodeURIComponent(id)}`, body);
      if (reply.status >= 400) throw faultOf(address, reply);
      if (reply.status === 200) {
        const document = reply.body as OrderDocument;
        terminal.progress("");
        terminal.say(
          call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayOrder(document, address, terminal),
        );
        return EXIT.found;
      }
      terminal.progress("the server is planning");
      await new Promise((resolve) => setTimeout(resolve, PAUSE));
    }
  });

/** The crew file of the call, where there is one: it was read before, and the server reads it again. */
const crewFile = (call: Call): { readonly crew?: ModelFile } => {
  const [path, ...more] = call.flags.get("crew") ?? [];
  return path === undefined || more.length > 0 || !/\.ya?ml$/i.test(path)
    ? {}
    : { crew: { path, text: readFileSync(path, "utf8") } };
};

const nextId = async (shop: ReturnType<typeof farShop>, vehicle: string): Promise<string> => {
  for (let n = 1; ; n++) {
    const reply = await shop.ask("GET", `/orders/${encodeURIComponent(`${vehicle}-${n}`)}`, undefined);
    if (reply.status === 404) return `${vehicle}-${n}`;
    if (reply.status >= 400) throw faultOf(shop.address, reply);
  }
};

/** Paths as the vehicle's own folder has them: the server's includes never leave it. */
const inFolder = (files: readonly ModelFile[]): readonly ModelFile[] => {
  const main = files[0]?.path ?? "";
  const folder = main.slice(0, main.lastIndexOf("/") + 1);
  return files.map(({ path, text }) => {
    const inside = path.startsWith(folder) ? path.slice(folder.length) : path;
    if (inside.startsWith("/") || inside.split("/").includes(".."))
      throw new StoreFault(
        "unknown",
        path,
        "it lies outside the folder of the vehicle file",
        "Move it into that folder.",
      );
    return { path: inside, text };
  });
};

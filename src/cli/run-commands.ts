// Owns the entries of the order's and its run's commands in the list of commands.

import type { Flag, Operand } from "./call.ts";
import type { Command } from "./command.ts";

const SHOP: Operand = { name: "SHOP", text: "the shop: its store, a file or postgres://…, or its server, https://…" };
const SERVER: Flag = { name: "server", value: "URL", text: "the shop's server, instead of SHOP; sign in first" };
const RUN: Operand = { name: "RUN", text: "the run, by the name of its order" };
const SITE: Flag = { name: "site", value: "ID", text: "at a server: the site that does it; else main" };
export const BY: Flag = { name: "by", value: "WHO", text: "who says so, by id" };
const DEVICE: Flag = { name: "device", value: "FILE", text: "who this device is; else beside the store's file" };

const ORDERED: readonly Flag[] = [
  BY,
  { name: "approver", value: "ID", many: true, text: "may approve the lift" },
  { name: "foreman", value: "ID", many: true, text: "may settle, close, and take back others' entries" },
  { name: "role", value: "ID=ROLE", many: true, text: "any other role" },
  { name: "machine", value: "SERIAL", text: "the machine as an individual: what was found on it is offered" },
  { name: "option", value: "NAME", many: true, text: "an option that this machine has" },
  { name: "id", value: "NAME", text: "the order's name; else the vehicle's with a number" },
];

/** With the flags of an order, which the list has. */
const orderCommand = (order: readonly Flag[], crew: Flag): Command => ({
  name: "order",
  summary: "take an order: jobs on a vehicle, planned, and kept in the shop's store",
  about: "The first order makes the store. The run is pinned to this version of the vehicle file and to its plan.",
  operands: [SHOP, { name: "FILE", text: "the vehicle file (*.vehicle.yaml)" }],
  flags: [...order.filter(({ name }) => name !== "crew"), crew, ...ORDERED, SITE, SERVER],
  example:
    "unmoor order shop.db demo/bench-pump.vehicle.yaml --job shaft-seal --crew demo/shop.crew.yaml --approver dora --foreman frida --by frida",
  load: async () => (await import("./take-order.ts")).runOrder,
});

const RUN_COMMANDS: readonly Command[] = [
  {
    name: "run",
    summary: "begin an order's run; how it stands, or stood; and the run as a file",
    about: "Without RUN: the orders and runs of the shop. With --by the run is begun, if it is not yet.",
    operands: [SHOP, { ...RUN, optional: true }],
    flags: [
      BY,
      { name: "at", value: "TIME", text: "as it stood then: 22:10, or a date with its time" },
      { name: "known-to", value: "DEVICE[:N]", text: "as that device knew it by its last, or its Nth entry" },
      {
        name: "take-in",
        value: "FILE",
        text: "what another device wrote of this run while it was alone, as its --export",
      },
      { name: "who", text: "who does what next, of those who are there: as plan --crew has it, from now on" },
      { name: "told", value: "FILE", text: "with --who: what --who --json said before; it is kept to where it can be" },
      { name: "seconds", value: "S", number: true, text: "with --who: search so long; else 2 s" },
      { name: "seed", value: "N", number: true, text: "with --who: search from another beginning" },
      { name: "export", value: "FILE", text: "every entry as it was signed, as JSON Lines" },
      DEVICE,
      SERVER,
    ],
    example: "unmoor run shop.db bench-pump-1 --by frida",
    load: async () => (await import("./run.ts")).runRun,
  },
  {
    name: "entry",
    summary: "enter what was done, found, verified or handed over",
    about:
      "ABOUT is the first thing that the kind asks for: the connection, the task, the part. A kind of two words is written with a hyphen: in-place.\nWhat a kind asks for besides, it says when it is missing; all kinds are in docs/ledger.md. A finding that bears on the plan makes a new one for what is left.",
    operands: [
      SHOP,
      RUN,
      { name: "KIND", text: "what was done: released, verified, torqued, finding …", optional: true },
      { name: "ABOUT", text: "what it was done to", optional: true },
    ],
    flags: [
      BY,
      { name: "sure", text: "of a torque that does not fit and was read so" },
      { name: "photo", value: "FILE", many: true, text: "a photo of it: JPEG, PNG or WebP" },
      { name: "from-file", value: "FILE", text: 'entries one a line, {"by": …, "kind": …}; - for standard input' },
      DEVICE,
      SERVER,
    ],
    moreFlags: async () => (await import("./entry-fields.ts")).ENTRY_FIELDS,
    example: "unmoor entry shop.db bench-pump-1 released coupling --by emil",
    load: async () => (await import("./entry.ts")).runEntry,
  },
  {
    name: "gate",
    summary: "is it open? else what is missing, where, and who could do it",
    about: "isolation, lift, start-up, hand-over; all of them where none is named. Exit code 1 while one is shut.",
    operands: [SHOP, RUN, { name: "GATE", text: "the gate", optional: true }],
    flags: [{ name: "lift", value: "ID", text: "only this lift of the plan" }, DEVICE, SERVER],
    example: "unmoor gate shop.db bench-pump-1 lift",
    load: async () => (await import("./gate.ts")).runGate,
  },
  {
    name: "shift",
    summary: "the page for whoever takes over: what is half done, where parts lie, what waits for whom",
    about: "Handed over and taken over by entries: handing-over WHOM, taken-over FROM.",
    operands: [SHOP, RUN],
    flags: [DEVICE, SERVER],
    example: "unmoor shift shop.db bench-pump-1",
    load: async () => (await import("./shift.ts")).runShift,
  },
  {
    name: "verify",
    summary: "is a run's file as it was written? every hash and every signature",
    about: "Names each line that was changed, and what is missing.",
    operands: [{ name: "RUN.jsonl", text: "what unmoor run --export wrote" }],
    flags: [],
    example: "unmoor verify bench-pump-1.jsonl",
    load: async () => (await import("./verify.ts")).runVerify,
  },
];

export const runCommands = (order: readonly Flag[], crew: Flag): readonly Command[] => [
  orderCommand(order, crew),
  ...RUN_COMMANDS,
];

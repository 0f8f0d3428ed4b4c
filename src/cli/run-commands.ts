// Owns the entries of the run's and the server's commands in the list of commands.

import type { Flag, Operand } from "./call.ts";
import type { Command } from "./command.ts";

const SHOP: Operand = { name: "SHOP", text: "the shop: its store, a file or postgres://…, or its server, https://…" };
const STORE: Operand = { name: "SHOP", text: "the shop's store: a file, or postgres://…" };
const SERVER: Flag = { name: "server", value: "URL", text: "the shop's server, instead of SHOP; sign in first" };
const RUN: Operand = { name: "RUN", text: "the run, by the name of its order" };
const SITE: Flag = { name: "site", value: "ID", text: "at a server: the site that does it; else main" };
const BY: Flag = { name: "by", value: "WHO", text: "who says so, by id" };
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

/** The commands of the run, for a list that has the flags of an order. */
export const runCommands = (order: readonly Flag[], crew: Flag): readonly Command[] => [
  {
    name: "order",
    summary: "take an order: jobs on a vehicle, planned, and kept in the shop's store",
    about: "The first order makes the store. The run is pinned to this version of the vehicle file and to its plan.",
    operands: [SHOP, { name: "FILE", text: "the vehicle file (*.vehicle.yaml)" }],
    flags: [...order.filter(({ name }) => name !== "crew"), crew, ...ORDERED, SITE, SERVER],
    example:
      "unmoor order shop.db demo/bench-pump.vehicle.yaml --job shaft-seal --crew demo/shop.crew.yaml --approver dora --foreman frida --by frida",
    load: async () => (await import("./take-order.ts")).runOrder,
  },
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
  {
    name: "backup",
    summary: "the whole store into one file, while others go on working; read back before it has its name",
    about: "The same file serves both kinds of store.",
    operands: [STORE, { name: "FILE", text: "the backup" }],
    flags: [],
    example: "unmoor backup shop.db shop.backup",
    load: async () => (await import("./backup.ts")).runBackup,
  },
  {
    name: "restore",
    summary: "a backup into a new store, whole or not at all, and compared",
    about: "From a file to a database or back as well.",
    operands: [{ name: "FILE", text: "the backup" }, STORE],
    flags: [],
    example: "unmoor restore shop.backup shop-2.db",
    load: async () => (await import("./backup.ts")).runRestore,
  },
  {
    name: "sign-in",
    summary: "sign in at a shop's server, so that order, run, entry, gate and shift can go there",
    about:
      "Asks for the password; what the server gives for it is kept readable by you alone. --out forgets it, here and there.",
    operands: [{ name: "URL", text: "the server, https://…" }],
    flags: [
      BY,
      { name: "authority", value: "FILE", text: "the server's own authority, from its page" },
      { name: "set-up", text: "be the first: asks for the code on the server's console, and for a password" },
      { name: "name", value: "NAME", text: "with --set-up: what you are called; else WHO" },
      { name: "shop", value: "NAME", text: "with --set-up: what the shop is called" },
      { name: "out", text: "sign out" },
    ],
    example: "unmoor sign-in https://shop.local:8420 --by frida --authority unmoor-authority.crt",
    load: async () => (await import("./sign-in.ts")).runSignIn,
  },
  {
    name: "people",
    summary: "who may sign in at a shop's server, and what each may do where",
    about:
      "Without WHO: everybody whose foreman you are. What is not named stays as it is. A start PIN or password is asked for, given to\nthat person, and changed by him when he first uses it.",
    operands: [
      { name: "URL", text: "the server, https://…; sign in first" },
      { name: "WHO", text: "somebody, new or not, by id", optional: true },
    ],
    flags: [
      { name: "name", value: "NAME", text: "what he is called" },
      {
        name: "role",
        value: "ROLE",
        many: true,
        text: "what he may at the site: mechanic, verifier, lift approver, foreman …",
      },
      { name: "site", value: "ID", text: "the site; else main" },
      { name: "skill", value: "SKILL", many: true, text: "what he can, as vehicle files name it" },
      { name: "steward", text: "he keeps the server: adds sites and people anywhere" },
      { name: "pin", text: "give him a start PIN, for paired tablets" },
      { name: "password", text: "give him a start password" },
    ],
    example: "unmoor people https://shop.local:8420 emil --name Emil --role mechanic,verifier --password",
    load: async () => (await import("./people.ts")).runPeople,
  },
  {
    name: "serve",
    summary: "the shop's server: many people at once, tablets, live updates; on a file or a database",
    about:
      "Without --https it listens to this machine alone. --https makes an authority and a certificate of the shop's own, once, beside the store,\nand serves a page on the next port that says how a tablet comes to trust it.",
    operands: [{ ...STORE, text: "the shop's store, made where there is none; else shop.db", optional: true }],
    flags: [
      { name: "database", value: "URL", text: "the shop is in this database: postgres://…" },
      { name: "https", text: "safe connections, by an authority of the shop's own" },
      { name: "cert", value: "FILE", text: "safe connections by this certificate, PEM, with --key" },
      { name: "key", value: "FILE", text: "the certificate's key" },
      { name: "name", value: "HOST", many: true, text: "another name by which tablets reach this machine" },
      {
        name: "host",
        value: "ADDRESS",
        text: "listen there; else everywhere with --https, on this machine alone without",
      },
      { name: "port", value: "N", number: true, text: "listen there; else 8420" },
      { name: "plain", text: "HTTP from other machines too, where something before this server does HTTPS" },
      { name: "threads", value: "N", number: true, text: "long computations at a time; else all cores but one" },
      { name: "no-work", text: "leave long computations to workers: unmoor work" },
    ],
    example: "unmoor serve shop.db --https",
    load: async () => (await import("./serve.ts")).runServe,
  },
  {
    name: "work",
    summary: "compute what the servers of a database are asked: plans, crews, simulations",
    about:
      "Any number of servers and workers share one database. A worker that ends, or is killed, loses nothing: what it had goes to another.",
    operands: [],
    flags: [
      { name: "database", value: "URL", text: "the shop's database: postgres://…" },
      { name: "threads", value: "N", number: true, text: "questions at a time; else all cores but one" },
    ],
    example: "unmoor work --database postgres://unmoor@db.local/shop",
    load: async () => (await import("./work.ts")).runWork,
  },
];

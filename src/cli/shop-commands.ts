// Owns the entries of the store's and the server's commands in the list of commands.

import type { Operand } from "./call.ts";
import type { Command } from "./command.ts";
import { BY } from "./run-commands.ts";

const STORE: Operand = { name: "SHOP", text: "the shop's store: a file, or postgres://…" };

export const SHOP_COMMANDS: readonly Command[] = [
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

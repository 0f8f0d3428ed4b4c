// Owns the command `run`: the list of orders and runs, how one stands now or stood at a moment, and the run as a file.

import { writeFileSync } from "node:fs";
import { type Entry, knownTo, Ledger, ledgerAt, readRun, shiftPage, writeRun } from "../ledger/index.ts";
import { writeCrewPlan } from "../plan/index.ts";
import { type Desk, describeReception, describeRun, nodesOwn } from "../server/index.ts";
import type { Call } from "./call.ts";
import { readEarlier, readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { refuse } from "./release.ts";
import { restSchedule } from "./rest-schedule.ts";
import { sayRun, sayRunList } from "./run-text.ts";
import { atShop, type Shop, warnOfDamage } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

export function runRun(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [, id] = call.operands;
  return atShop(call, terminal, async (shop) => {
    if (id === undefined) return list(shop, call, terminal);
    const by = call.flags.get("by")?.[0];
    if (by !== undefined) await shop.begin(id, by);
    const desk = await shop.desk(id);
    warnOfDamage(desk, terminal);
    const path = call.flags.get("export")?.[0];
    if (path !== undefined) return exportRun(desk, path, terminal);
    const brought = call.flags.get("take-in")?.[0];
    if (brought !== undefined) return takeIn(desk, brought, call, terminal);
    if (call.flags.has("who")) return tellWho(desk, call, terminal);
    const past = pastOf(desk, call, terminal);
    return typeof past === "number" ? past : tell(desk, past, call, terminal);
  });
}

async function list(shop: Shop, call: Call, terminal: Terminal): Promise<Exit> {
  const document = await shop.orders();
  terminal.say(call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayRunList(document, terminal));
  return EXIT.found;
}

async function exportRun(desk: Desk, path: string, terminal: Terminal): Promise<Exit> {
  const lines = writeRun(
    desk.brief,
    await desk.keys(),
    desk.told.map(({ text }) => text),
  );
  try {
    writeFileSync(path, `${lines.join("\n")}\n`);
  } catch (error) {
    return refuse(
      [
        {
          what: `${path} cannot be written: ${error instanceof Error ? error.message : error}`,
          mend: "See the path and its rights.",
        },
      ],
      terminal,
    );
  }
  terminal.say(`${desk.told.length} entries of ${desk.run.id} are in ${path}. unmoor verify ${path} proves them.`);
  return EXIT.found;
}

/** Takes in what another device wrote of this run while it was alone, from the file that it exported. */
async function takeIn(desk: Desk, path: string, call: Call, terminal: Terminal): Promise<Exit> {
  const text = readText(path);
  if (typeof text !== "string") return refuse([text], terminal);
  const { head, told, faults } = readRun(text, nodesOwn());
  if (head === undefined || faults.length > 0)
    return refuse([{ what: `${path} is not a run as it was written`, mend: `See unmoor verify ${path}.` }], terminal);
  const reception = await desk.receive(told, new Map(Object.entries(head.keys)));
  const document = describeReception(desk, reception);
  if (call.flags.has("json")) terminal.say(JSON.stringify(document, undefined, 2));
  else {
    for (const fault of document.faults) terminal.warn(`unmoor: not taken in: ${fault}.`);
    if (document.faults.length === 0)
      terminal.say(`${document.taken} of ${told.length} entries are new and taken into ${desk.run.id}.`);
    for (const { says } of [...document.contradictions, ...document.wrongPasses])
      terminal.warn(terminal.ink.doubt(says));
  }
  return document.faults.length === 0 ? EXIT.found : EXIT.not;
}

/** Who does what next: the rest of the job for those who are there, from where it stands; what was told is kept where it can be. */
async function tellWho(desk: Desk, call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.flags.get("told")?.[0];
  const told = path === undefined ? undefined : readEarlier(path);
  if (told !== undefined && "what" in told) return refuse([told], terminal);
  const rest = await restSchedule(desk, call, terminal, told);
  if (typeof rest === "number") return rest;
  terminal.say(call.flags.has("json") ? JSON.stringify(rest, undefined, 2) : writeCrewPlan(rest));
  return EXIT.found;
}

/** The ledger as it stood at --at, or as a device knew it. */
function pastOf(desk: Desk, call: Call, terminal: Terminal): Ledger | Exit {
  const entries: readonly Entry[] = desk.told.map(({ entry }) => entry);
  const at = call.flags.get("at")?.[0];
  const known = call.flags.get("known-to")?.[0];
  let ledger = desk.ledger;
  if (at !== undefined) {
    const until = readMoment(at, entries.at(-1)?.at ?? Date.now());
    if (until === undefined)
      return refuse([{ what: `--at ${at} is no moment`, mend: "Write 22:10, or 2026-03-02T22:10." }], terminal);
    ledger = ledgerAt(desk.brief, entries, until);
  }
  if (known === undefined) return ledger;
  const [device = "", number] = known.split(":");
  const own = entries.filter((entry) => entry.device.startsWith(device));
  const last = Math.max(0, ...own.map((entry) => entry.number));
  const [first] = own;
  if (first === undefined)
    return refuse(
      [
        {
          what: `--known-to ${known}: no such device has written`,
          mend: `There are: ${[...new Set(entries.map((entry) => entry.device.slice(0, 8)))].join(", ")}.`,
        },
      ],
      terminal,
    );
  return new Ledger(desk.brief, knownTo(entries, first.device, number === undefined ? last : Number(number)));
}

/** "22:10" on the day of the last entry, by this machine's clock; or a date with its time. Whole minutes are meant to their end. */
function readMoment(text: string, last: number): number | undefined {
  const clock = /^(\d{1,2}):(\d{2})$/.exec(text);
  const minute = 60_000 - 1;
  if (clock !== null) {
    const day = new Date(last);
    day.setHours(Number(clock[1]), Number(clock[2]), 0, 0);
    return Number(clock[1]) < 24 && Number(clock[2]) < 60 ? day.getTime() + minute : undefined;
  }
  const moment = Date.parse(text);
  return Number.isNaN(moment) ? undefined : moment + (/T\d{2}:\d{2}(Z|[-+]\d{2}:\d{2})?$/.test(text) ? minute : 0);
}

function tell(desk: Desk, ledger: Ledger, call: Call, terminal: Terminal): Exit {
  const document = describeRun(desk, ledger);
  terminal.say(
    call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayRun(document, shiftPage(ledger), terminal),
  );
  return EXIT.found;
}

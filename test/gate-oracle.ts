// Owns a second opinion on the gates: what is missing by a reading of the entries that shares nothing with the ledger's, written the long way round.

import type { Brief, Entry } from "../src/ledger/index.ts";

const before = (a: Entry, b: Entry): boolean => {
  if (a.clock[0] !== b.clock[0]) return a.clock[0] < b.clock[0];
  if (a.clock[1] !== b.clock[1]) return a.clock[1] < b.clock[1];
  if (a.device !== b.device) return a.device < b.device;
  return a.number < b.number;
};

/** The entries that count, in their order: corrections are gone through from the last back, so each finds its own fate settled. */
const counting = (brief: Brief, entries: readonly Entry[]): readonly Entry[] => {
  const foreman = (id: string) => brief.people.some((one) => one.id === id && one.roles.includes("foreman"));
  const order = [...entries].sort((a, b) => (before(a, b) ? -1 : 1));
  const gone = new Set<string>();
  for (const entry of order.toReversed()) {
    if (gone.has(entry.id) || entry.body.kind !== "correction") continue;
    const { of } = entry.body;
    const target = order.find(({ id }) => id === of);
    if (target !== undefined && before(target, entry) && (target.author === entry.author || foreman(entry.author)))
      gone.add(of);
  }
  return order.filter(({ id }) => !gone.has(id));
};

interface Apart {
  apart: boolean;
  seen: boolean;
  ever: boolean;
  hands: Set<string>;
  tightened: number;
  second: boolean;
  locked: boolean;
  made: boolean;
  looked: boolean;
  plugged: boolean;
  readonly counts: Map<string, number>;
  readonly out: Set<string>;
}

const walk = (brief: Brief, id: string, entries: readonly Entry[]): Apart => {
  const now: Apart = {
    apart: false,
    seen: false,
    ever: false,
    hands: new Set(),
    tightened: 0,
    second: false,
    locked: false,
    made: true,
    looked: false,
    plugged: false,
    counts: new Map(),
    out: new Set(),
  };
  if (brief.joints.some((one) => one.id === id && one.before))
    Object.assign(now, { apart: true, ever: true, made: false });
  for (const { author, body } of entries) {
    if (!("at" in body) || body.at !== id) continue;
    const { kind } = body;
    const opens = kind === "released" || kind === "loosened";
    if (opens && (!now.apart || !now.made)) {
      const again = now.apart && !now.made && now.hands.size > 0 && now.tightened === 0;
      Object.assign(now, {
        apart: true,
        ever: true,
        made: false,
        seen: false,
        looked: false,
        tightened: 0,
        second: false,
        locked: false,
      });
      now.hands = again ? new Set([...now.hands, author]) : new Set([author]);
    } else if (kind === "verified" && body.found === "loose") {
      if (now.apart && now.hands.size > 0 && !now.hands.has(author)) now.seen = true;
    } else if (kind === "verified" && body.found === "made") {
      if (now.apart && !now.made && now.tightened === 0) Object.assign(now, { apart: false, seen: false });
      else now.looked = true;
    } else if (kind === "in place" || kind === "snug" || kind === "torqued" || kind === "refitted") {
      Object.assign(now, { apart: kind === "refitted" ? false : now.apart, seen: false, tightened: now.tightened + 1 });
      if (kind === "refitted" && now.ever) now.made = true;
    } else if (kind === "locked") now.locked = true;
    else if (kind === "torque value") now.second = true;
    else if (kind === "plugged") now.plugged = true;
    else if (kind === "unplugged") now.plugged = false;
    else if (kind === "counted") {
      now.counts.set(body.item, (now.counts.get(body.item) ?? 0) + (body.way === "out" ? body.count : -body.count));
      if (body.way === "out") now.out.add(body.item);
    }
  }
  return now;
};

/** Whatever must keep the lift gate shut; nothing where it may be open. */
export const missingForLift = (brief: Brief, task: string, all: readonly Entry[]): readonly string[] => {
  const entries = counting(brief, all);
  const lift = brief.lifts.find((one) => one.task === task);
  if (lift === undefined) return ["no such lift"];
  const missing: string[] = [];
  const loose = new Set(brief.joints.filter(({ id }) => walk(brief, id, entries).seen).map(({ id }) => id));
  for (const id of lift.cut) if (!loose.has(id)) missing.push(`tied by ${id}`);

  // Flood over everything that is not loose, straps among it, until nothing more is reached.
  const strapped = new Map<string, string>();
  for (const { body } of entries)
    if (body.kind === "hung aside") strapped.set(body.part, body.to);
    else if (body.kind === "set aside" || body.kind === "brought back") strapped.delete(body.part);
  const edges = [...brief.joints.filter(({ id }) => !loose.has(id)).map(({ joins }) => joins), ...strapped];
  const reached = new Set(lift.parts);
  for (let grown = true; grown; ) {
    grown = false;
    for (const joins of edges)
      if (joins.some((id) => reached.has(id)))
        for (const id of joins)
          if (!reached.has(id)) {
            reached.add(id);
            grown = true;
          }
  }
  for (const { id, fixed } of brief.parts) if (fixed && reached.has(id)) missing.push(`reaches ${id}`);

  const approver = (id: string) => brief.people.some((one) => one.id === id && one.roles.includes("lift approver"));
  const approvals = entries.filter(
    ({ author, body }) => body.kind === "approval" && body.gate === "lift" && body.lift === task && approver(author),
  );
  if (approvals.length === 0) missing.push("not approved");
  const open = new Set<string>();
  for (const { id, body } of entries)
    if (body.kind === "finding" && body.about !== undefined && [...lift.cut, ...lift.parts].includes(body.about))
      open.add(id);
  for (const { body } of entries) if (body.kind === "closed" || body.kind === "left open") open.delete(body.finding);
  missing.push(...[...open].map((id) => `finding ${id}`));
  const there = new Set<string>();
  for (const { author, body } of entries)
    for (const { id } of lift.empties)
      if (body.kind === "claimed" && body.place === id) there.add(`${author} at ${id}`);
      else if (body.kind === "left" && body.place === id) there.delete(`${author} at ${id}`);
  missing.push(...there);
  for (const { energy } of brief.energies) {
    let key: string | undefined;
    for (const { author, body } of entries)
      if (body.kind === "isolated" && body.energy === energy) key ??= body.key;
      else if (body.kind === "restored" && body.energy === energy && author === key) key = undefined;
    if (key === undefined) missing.push(`${energy} is on`);
  }
  const trial = entries.findLastIndex(({ body }) => body.kind === "trial" && body.lift === task);
  if (trial < 0) missing.push("no trial");
  for (const { body } of entries.slice(trial + 1))
    if ((body.kind === "released" || body.kind === "loosened") && lift.cut.includes(body.at) && !loose.has(body.at))
      missing.push(`${body.at} was released after the trial`);
  return missing;
};

/** Whatever must keep the start-up gate shut. */
export const missingForStart = (brief: Brief, all: readonly Entry[]): readonly string[] => {
  const entries = counting(brief, all);
  const missing: string[] = [];
  for (const joint of brief.joints) {
    const now = walk(brief, joint.id, entries);
    if (now.plugged) missing.push(`${joint.id} is plugged`);
    for (const [item, count] of now.counts) if (count !== 0) missing.push(`${joint.id}: ${count} ${item}`);
    if (!now.ever) continue;
    if (!now.made) missing.push(`${joint.id} is not made`);
    if (joint.locks && !now.locked) missing.push(`${joint.id} is not locked`);
    if (joint.critical && joint.torque !== undefined && !now.second) missing.push(`${joint.id} was read by one`);
    for (const { item } of joint.hardware) if (!now.out.has(item)) missing.push(`${joint.id}: ${item} was not counted`);
    if (joint.torque?.proposal === true) missing.push(`${joint.id}: nobody gave its torque`);
  }
  const sums = new Map<string, number>();
  for (const { body } of entries) {
    if (body.kind === "put in" || body.kind === "taken out")
      sums.set(
        `${body.item} ${body.at}`,
        (sums.get(`${body.item} ${body.at}`) ?? 0) + (body.kind === "put in" ? body.count : -body.count),
      );
    if (body.kind === "tool out" || body.kind === "tool in")
      sums.set(body.tool, (sums.get(body.tool) ?? 0) + (body.kind === "tool out" ? body.count : -body.count));
  }
  for (const [what, sum] of sums) if (sum > 0) missing.push(`${what} is still there`);
  const away = new Set<string>();
  for (const { body } of entries)
    if (body.kind === "hung aside" || body.kind === "set aside") away.add(body.part);
    else if (body.kind === "brought back") away.delete(body.part);
  missing.push(...[...away].map((part) => `${part} is away`));
  for (const { id, drains } of brief.tasks) {
    if (drains.length === 0) continue;
    let drained = false;
    for (const { body } of entries)
      if (body.kind === "drained" && body.task === id) drained = true;
      else if (body.kind === "filled" && body.task === id) drained = false;
    if (drained) missing.push(`${id} is drained`);
  }
  for (const { energy } of brief.energies) {
    let off = false;
    for (const { body } of entries)
      if (body.kind === "isolated" && body.energy === energy) off = true;
      else if (body.kind === "restored" && body.energy === energy) off = false;
    if (off) missing.push(`${energy} is off`);
  }
  return missing;
};

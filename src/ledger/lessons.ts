// Owns what a run teaches of times: each piece of work that was begun and ended, with its waiting and fetching, and each look at a tie, as lines that `unmoor learn` reads.

import type { Entry } from "./entry.ts";
import type { Ledger } from "./ledger.ts";

/** A piece of work, or with `stillMade` a look at a tie; the fields of docs/times.md. */
export type Lesson =
  | {
      readonly vehicle: string;
      readonly connection: string;
      readonly way?: string;
      readonly back?: true;
      readonly people: readonly string[];
      /** ISO 8601, UTC. */
      readonly start: string;
      readonly end: string;
      /** Somebody else went on with it. */
      readonly broken?: true;
      readonly causes: readonly { readonly cause: string; readonly minutes: number }[];
    }
  | {
      readonly vehicle: string;
      readonly connection: string;
      readonly stillMade: boolean;
      readonly due: "early" | "middle" | "late";
    };

const moment = (at: number): string => new Date(at).toISOString();

/** Of work that nobody booked as begun nothing is learnt: between two entries lies more than the work. */
export const lessonsOf = (ledger: Ledger): readonly Lesson[] => {
  const { vehicle, joints, steps } = ledger.brief;
  const entries = ledger.all().filter((entry) => !ledger.isVoid(entry));
  const order = steps.filter(({ action }) => action === "release").map(({ id }) => id);
  const thirds = ["early", "middle", "late"] as const;
  const lessons: Lesson[] = [];
  for (const { id, way: planned } of joints) {
    const own = entries.filter(({ body }) => "at" in body && body.at === id);
    for (const [place, entry] of own.entries()) {
      const { body } = entry;
      if (body.kind !== "begun") continue;
      const next = own.slice(place + 1);
      const ends = next.find((one) => one.body.kind === "begun" || isEnd(one));
      if (ends === undefined || ends.at <= entry.at) continue;
      const way = ends.body.kind === "released" || ends.body.kind === "loosened" ? (ends.body.way ?? planned) : planned;
      lessons.push({
        vehicle,
        connection: id,
        ...(way === undefined ? {} : { way }),
        ...(ends.body.kind === "refitted" ? { back: true as const } : {}),
        people: body.people ?? [entry.author],
        start: moment(entry.at),
        end: moment(ends.at),
        ...(ends.body.kind === "begun" ? { broken: true as const } : {}),
        causes: causesBetween(entries, id, entry, ends),
      });
    }
    const standing = ledger.joint(id);
    const due =
      thirds[Math.min(2, Math.floor((3 * Math.max(0, order.indexOf(id))) / Math.max(1, order.length)))] ?? "middle";
    for (const { found } of standing.surprises)
      if (found === "made") lessons.push({ vehicle, connection: id, stillMade: true, due });
    const seenLoose = own.some(({ body }) => body.kind === "verified" && body.found === "loose");
    if (seenLoose) lessons.push({ vehicle, connection: id, stillMade: false, due });
  }
  return lessons;
};

const isEnd = ({ body }: Entry): boolean =>
  body.kind === "released" || body.kind === "loosened" || body.kind === "refitted";

/** What stood still between two entries: pauses about this connection, or of its author's about nothing in particular. */
const causesBetween = (entries: readonly Entry[], id: string, from: Entry, until: Entry) => {
  const causes: { cause: string; minutes: number }[] = [];
  const concerns = (about: string | undefined, author: string) =>
    about === id || (about === undefined && author === from.author);
  for (const [place, { at, author, body }] of entries.entries()) {
    if (body.kind !== "paused" || at < from.at || at >= until.at || !concerns(body.about, author)) continue;
    const resumed = entries
      .slice(place + 1)
      .find((one) => one.body.kind === "resumed" && one.author === author && one.body.about === body.about);
    const end = Math.min(resumed?.at ?? until.at, until.at);
    causes.push({ cause: body.cause, minutes: (end - at) / 60_000 });
  }
  return causes;
};

// Owns what runs taught of a vehicle: its connections' kinds, sizes and file times beside what was seen, as a document that a finish can take.

import {
  learn,
  learnCauses,
  type Observation,
  type Predictive,
  predictedPercentile,
  quantileSpread,
  type RunFault,
  type Runs,
  type Seen,
  type Subject,
  stillMadeChance,
  type Verified,
} from "../times/index.ts";
import { type Connection, indexWords, type Vehicle } from "../vehicle/index.ts";
import { refitOf } from "./refit.ts";

export interface Learnt {
  readonly format: "unmoor/learnt/1";
  readonly vehicle: string;
  readonly runs: number;
  readonly broken: number;
  /** Standard deviation of the logarithm of the same work done again. */
  readonly scatter: number;
  readonly times: readonly {
    /** The way, with `back:` its refit. */
    readonly step: string;
    readonly label: string;
    readonly seen: number;
    /** Minutes that the file has. */
    readonly file: number;
    readonly p50: number;
    readonly p90: number;
    readonly p95: number;
    /** The lognormal through P50 and P95, for a simulation. */
    readonly centre: number;
    readonly spread: number;
  }[];
  readonly effects: readonly {
    readonly group: string;
    readonly name: string;
    readonly seen: number;
    readonly times: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly causes: readonly {
    readonly cause: string;
    readonly came: number;
    readonly of: number;
    readonly minutes: number;
    readonly p50: number;
  }[];
  /** Seldom times, to be looked at: they count until they are taken out. */
  readonly odd: readonly {
    readonly file: string;
    readonly line: number;
    readonly step: string;
    readonly minutes: number;
  }[];
  /** Where to look first when ties are verified. */
  readonly looks: readonly { readonly connection: string; readonly chance: number }[];
}

const MINUTES_A_DAY = 1440;

const sizeOf = ({ hardware }: Connection): string | undefined =>
  hardware.flatMap(({ item }) => /\bM\d+(?:\.\d+)?/.exec(item)?.[0] ?? [])[0];

/** What is known of a step before anything was seen; undefined where the file gives it no time. */
const subjectOf = (connection: Connection, wayId: string | undefined, back: boolean): Subject | undefined => {
  const way = connection.ways.find(({ id }) => id === wayId) ?? connection.ways[0];
  if (way === undefined) return undefined;
  const guess = back ? refitOf(connection, way).time : way.time;
  if (!(guess > 0)) return undefined;
  const size = sizeOf(connection);
  return {
    work: `${back ? "back:" : ""}${way.id}`,
    kind: `${connection.kind}${back ? ", back" : ""}`,
    ...(size === undefined ? {} : { size }),
    guess,
  };
};

/** More than this is no help. */
const LISTED = 12;

const nearest = (word: string, known: readonly string[]): string => {
  const near = indexWords(known)(word);
  if (near !== undefined) return `Nearest: ${near}.`;
  const more = known.length > LISTED ? `, and ${known.length - LISTED} more` : "";
  return `There are: ${known.slice(0, LISTED).join(", ")}${more}.`;
};

/** Connections and ways in runs that the vehicle does not have. */
export const strangersIn = ({ connections }: Vehicle, { observations, looks }: Runs): readonly RunFault[] => {
  const known = new Map(connections.map((one) => [one.id, one]));
  return [...observations, ...looks]
    .toSorted((a, b) => a.line - b.line)
    .flatMap((one): readonly RunFault[] => {
      const { file, line } = one;
      const connection = known.get(one.connection);
      if (connection === undefined)
        return [
          {
            file,
            line,
            what: `there is no connection ${one.connection}`,
            mend: nearest(one.connection, [...known.keys()]),
          },
        ];
      const ways = connection.ways.map(({ id }) => id);
      return "way" in one && one.way !== undefined && !ways.includes(one.way)
        ? [{ file, line, what: `${one.connection} has no way ${one.way}`, mend: nearest(one.way, ways) }]
        : [];
    });
};

const middle = (next: Predictive) => predictedPercentile(next, 0.5);

/** What these runs teach. Connections that the vehicle does not have are left to whoever reads the runs. */
export const learnRuns = (
  vehicle: Vehicle,
  observations: readonly Observation[],
  looks: readonly Verified[],
): Learnt => {
  const connections = new Map(vehicle.connections.map((connection) => [connection.id, connection]));
  const newest = Math.max(...observations.map(({ end }) => end));
  const taken = observations.flatMap((one): readonly { readonly one: Observation; readonly seen: Seen }[] => {
    const connection = connections.get(one.connection);
    const subject = connection === undefined ? undefined : subjectOf(connection, one.way, one.back);
    if (subject === undefined) return [];
    const { minutes, broken, people } = one;
    return [{ one, seen: { ...subject, people, minutes, broken, age: (newest - one.end) / MINUTES_A_DAY } }];
  });
  const lesson = learn(taken.map(({ seen }) => seen));
  const stillMade = stillMadeChance(
    looks.flatMap(({ connection, ...rest }) => {
      const known = connections.get(connection);
      return known === undefined ? [] : [{ ...rest, kind: known.kind, hidden: known.hidden }];
    }),
  );
  return {
    format: "unmoor/learnt/1",
    vehicle: vehicle.name,
    runs: taken.length,
    broken: taken.filter(({ seen }) => seen.broken).length,
    scatter: lesson.scatter,
    times: vehicle.connections.flatMap((connection) =>
      connection.ways.flatMap((way) =>
        [false, true].flatMap((back) => {
          const subject = subjectOf(connection, way.id, back);
          if (subject === undefined) return [];
          const next = lesson.next(subject);
          const [p50, p95] = [middle(next), predictedPercentile(next, 0.95)];
          return [
            {
              step: subject.work,
              label: way.label === undefined ? connection.label : `${connection.label}, ${way.label}`,
              seen: taken.filter(({ seen }) => seen.work === subject.work).length,
              file: subject.guess,
              p50,
              p90: predictedPercentile(next, 0.9),
              p95,
              ...quantileSpread(p50, p95),
            },
          ];
        }),
      ),
    ),
    effects: lesson.effects.filter(({ group }) => group !== "work"),
    causes: learnCauses(taken.map(({ one }) => one)).map(({ cause, came, of, minutes, lasts }) => ({
      cause,
      came,
      of,
      minutes,
      p50: middle(lasts),
    })),
    odd: lesson.odd.flatMap(({ index }) => {
      const found = taken[index];
      if (found === undefined) return [];
      const { file, line, connection, back, minutes } = found.one;
      return [{ file, line, step: `${back ? "back:" : ""}${connection}`, minutes }];
    }),
    looks:
      looks.length === 0
        ? []
        : vehicle.connections
            .map(({ id, kind, hidden }) => ({
              connection: id,
              chance: stillMade({ kind, hidden, due: "middle" }).mean,
            }))
            .sort((a, b) => b.chance - a.chance),
  };
};

const times = (factor: number): string => `× ${factor.toFixed(2)}`;

/** What was learnt, as text: what was seen, before and after. */
export const writeLearnt = (learnt: Learnt): string => {
  const seen = learnt.times.filter((one) => one.seen > 0);
  const wide = Math.max(0, ...seen.map(({ step }) => step.length));
  const minutes = (value: number) => value.toFixed(1).padStart(7);
  return [
    `${learnt.vehicle}: ${learnt.runs} times${learnt.broken > 0 ? `, ${learnt.broken} of them broken off and counted as at least so long` : ""}`,
    "",
    `${"step".padEnd(wide)}  seen   file    P50    P90    P95   (min; whoever does it)`,
    ...seen.map(
      (one) =>
        `${one.step.padEnd(wide)}  ${String(one.seen).padStart(4)}${minutes(one.file)}${minutes(one.p50)}${minutes(one.p90)}${minutes(one.p95)}`,
    ),
    `${learnt.times.length - seen.length} more have learnt from their like.`,
    "",
    "What things have in common (times the file's, nine chances of ten)",
    ...learnt.effects.map(
      ({ group, name, times: by, low, high, seen: count }) =>
        `  ${`${group} ${name}`.trim().padEnd(24)} ${times(by)}  ${low.toFixed(2)} to ${high.toFixed(2)}  (${count} seen)`,
    ),
    ...(learnt.causes.length === 0 ? [] : ["", "What came between, not in the times above"]),
    ...learnt.causes.map(
      ({ cause, came, of, minutes: all, p50 }) =>
        `  ${cause.padEnd(24)} ${came} of ${of} times, ${all.toFixed(0)} min in all; next time about ${p50.toFixed(1)} min`,
    ),
    ...(learnt.odd.length === 0 ? [] : ["", "Seldom times: right? They count until their lines are taken out"]),
    ...learnt.odd.map(({ file, line, step, minutes: all }) => `  ${file}:${line}  ${step}: ${all.toFixed(1)} min`),
    ...(learnt.looks.length === 0 ? [] : ["", "Look first, when ties are verified, at"]),
    ...learnt.looks
      .slice(0, 8)
      .map(({ connection, chance }) => `  ${(chance * 100).toFixed(1).padStart(5)} %  ${connection}`),
  ].join("\n");
};

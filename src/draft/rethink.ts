// Owns the thinking anew of what was not said: what was told, brought to what the file has by now, goes through the same rules again. What was answered or mended is gone then, and what an
// edit made doubtful is there.

import type { Connection, Vehicle } from "../vehicle/index.ts";
import type { Closing, Source, TaskTold, Tie, Told } from "./item.ts";
import { languageFor, languageNamed } from "./languages.ts";
import { assumedOf, saidOf } from "./outline.ts";
import { type Remark, remarksOn } from "./remark.ts";
import { Sheet } from "./sheet.ts";
import { isDoubtful } from "./write.ts";

/** What a narration told, as far as its remarks go. */
export interface Heard {
  readonly told: Told;
  /** The positions that somebody went to. */
  readonly stood: ReadonlySet<string>;
  /** Told of both sides, and undone on one. */
  readonly oneSide: ReadonlySet<Tie>;
  /** Code of the language that it is in. */
  readonly language?: string;
  /** Ids by which the file has what was told under others: it came into a draft that had those already. */
  readonly renamed?: ReadonlyMap<string, string>;
}

const NOTHING: Heard = {
  told: { ties: [], parts: [], tasks: [], positions: [], closings: [], bothSides: [], twoNames: [] },
  stood: new Set(),
  oneSide: new Set(),
};

/**
 * What is not said of a file and matters.
 *
 * @param heard the narrations that it comes from; without any the file alone is looked at
 */
export function remarksNow(text: string, vehicle: Vehicle, heard: readonly Heard[] = []): readonly Remark[] {
  const sheet = new Sheet(text);
  const assembly = sheet.assembly() ?? "";
  const joins = new Map(vehicle.connections.map(({ id, joins: [from = "", to = ""] }) => [id, [from, to] as const]));
  const all = (heard.length === 0 ? [NOTHING] : heard).flatMap((one, n) => {
    const now = broughtTo(one, vehicle, sheet, n === 0);
    const language =
      languageNamed(one.language ?? "") ?? languageFor(vehicle.connections.map(({ label }) => label).join(" "));
    return remarksOn(now.told, assembly, now.stood, now.oneSide, language, joins);
  });
  const said = all.filter((remark) => !isSaid(remark, vehicle));
  return [
    ...new Map(said.map((remark) => [`${remark.rule} ${remark.about.join(" ")} ${remark.text}`, remark])).values(),
  ];
}

/** What the file says in words that no narration has: what runs out is caught, what is undone still bears. */
function isSaid({ rule, about }: Remark, { connections }: Vehicle): boolean {
  const ties = connections.filter(({ id }) => about.includes(id));
  if (rule === "no-drain") return ties.every((tie) => tie.catch !== undefined);
  return rule === "no-support" && ties.every((tie) => tie.rests);
}

/** What was told, as the file has it. What is in the file and in no narration belongs to the first. */
function broughtTo(heard: Heard, vehicle: Vehicle, sheet: Sheet, isFirst: boolean): Heard {
  const { told, stood, oneSide, renamed = new Map<string, string>() } = heard;
  const before = new Map(told.ties.map((tie, n) => [renamed.get(tie.id) ?? tie.id, { tie, n }]));
  const found = vehicle.connections.flatMap((connection) => {
    const was = before.get(connection.id);
    if (was === undefined && !isFirst) return [];
    return [{ was, tie: tieNow(connection, was?.tie, sheet) }];
  });
  const ties = found.map(({ tie }) => tie);
  const now = new Map(found.flatMap(({ was, tie }) => (was === undefined ? [] : [[was.tie, tie] as const])));
  /** How many stand before what was told next by then; what was added behind the last is before the end. */
  const after = (told: number): number => {
    const next = found.findIndex(({ was }) => was !== undefined && was.n >= told);
    return next < 0 ? ties.length : next;
  };
  const same = (tie: Tie): Tie | undefined => {
    const one = now.get(tie);
    return one !== undefined && one.label === tie.label && one.count === tie.count ? one : undefined;
  };
  return {
    told: {
      ...told,
      ties,
      parts: vehicle.parts.map(({ id, label }) => ({ id, label, by: [], removed: false, cover: false, sources: [] })),
      tasks: tasksNow(told, vehicle, ties, after, renamed),
      positions: vehicle.positions.map(({ id, label }) => ({ id, label, closed: [] })),
      closings: told.closings.map((one): Closing => ({ ...one, after: after(one.after) })),
      bothSides: told.bothSides.flatMap((one) => {
        const tie = same(one.tie);
        return tie === undefined ? [] : [{ ...one, tie }];
      }),
      twoNames: told.twoNames.flatMap((one) => {
        const tie = same(one.tie);
        return tie === undefined ? [] : [{ ...one, tie }];
      }),
    },
    // Where somebody moved it to by hand, somebody is.
    stood: new Set([...stood, ...found.flatMap(({ was, tie }) => (was?.tie.at === tie.at ? [] : (tie.at ?? [])))]),
    oneSide: new Set([...oneSide].flatMap((tie) => same(tie) ?? [])),
  };
}

function tieNow(connection: Connection, was: Tie | undefined, sheet: Sheet): Tie {
  const { id, label, kind, hardware, ways } = connection;
  const item = sheet.itemsOf("connections").find((one) => one.id === id);
  const count = hardware.reduce((sum, one) => sum + one.count, 0) || (was?.count === 1 ? 1 : undefined);
  const [way] = ways;
  const isMarked = item !== undefined && assumedOf(sheet.lines, item).length > 0;
  const {
    count: _,
    at: __,
    verb: ___,
    ...rest
  } = was ?? {
    joins: [],
    sure: 1,
    assumed: [],
    undone: true,
    sources:
      item === undefined ? [] : saidOf(sheet.lines, item).map((said): Source => ({ file: "", line: 0, ...said })),
  };
  return {
    ...rest,
    id,
    label,
    kind,
    ...(count === undefined ? {} : { count }),
    ...(way?.at === undefined ? {} : { at: way.at }),
    verb: way?.loosen === true ? "loosen" : was?.verb === "loosen" || was?.verb === undefined ? "disconnect" : was.verb,
    // Whoever accepted it says that it is undone.
    undone: rest.undone || (was !== undefined && isDoubtful(was) && !isMarked),
  };
}

/** What a task of the file does, in the words of the rules. */
function tasksNow(
  told: Told,
  vehicle: Vehicle,
  ties: readonly Tie[],
  after: (told: number) => number,
  renamed: ReadonlyMap<string, string>,
): TaskTold[] {
  const was = new Map(told.tasks.map((task) => [renamed.get(task.id) ?? task.id, task]));
  const waits = (id: string): number => {
    const at = ties.findIndex((tie) =>
      vehicle.connections
        .find((one) => one.id === tie.id)
        ?.ways.some((way) => way.needs.some((need) => "id" in need && need.id === id)),
    );
    return at < 0 ? Number.POSITIVE_INFINITY : at;
  };
  const tasks = vehicle.tasks.map(({ id, label, drains, supports, isolates }): TaskTold => {
    const before = was.get(id);
    const [fluid] = drains;
    const does =
      drains.length > 0 ? "drain" : supports.length > 0 ? "support" : isolates.length > 0 ? "isolate" : before?.does;
    return {
      id,
      label,
      does: does ?? "",
      ...(fluid === undefined || before?.fluid === undefined ? {} : { fluid }),
      after: Math.min(before === undefined ? ties.length : after(before.after), waits(id)),
      sources: before?.sources ?? [],
    };
  });
  // What comes before anything else is there to make it dead.
  const [first] = vehicle.first;
  return first === undefined || tasks.some(({ does }) => does === "isolate")
    ? tasks
    : [...tasks, { id: first, label: first, does: "isolate", after: 0, sources: [] }];
}

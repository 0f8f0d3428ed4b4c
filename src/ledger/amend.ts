// Owns the vehicle and the order as a run has left them: what is done costs nothing more and is not done again, and what was found bars a way, takes longer, or is missing.

import { type Order, refitOf } from "../plan/index.ts";
import { minutes, readQuantity } from "../quantity/index.ts";
import { ties } from "../release/index.ts";
import type { Connection, Need, Task, Vehicle, Way } from "../vehicle/index.ts";
import type { Finding } from "./finding.ts";
import type { Ledger } from "./ledger.ts";

export interface Amended {
  readonly vehicle: Vehicle;
  readonly order: Order;
  /** What each finding changed, in words; a finding that changes nothing in a plan is left out. */
  readonly because: readonly { readonly finding: string; readonly says: string }[];
}

const takesOf = ({ found }: Finding): number => {
  const reading = found.takes === undefined ? undefined : readQuantity(found.takes, "time");
  return reading !== undefined && "value" in reading ? reading.value.nominal : 0;
};

/**
 * A way that has been gone: it costs nothing more, and its refit is as it would have been, and longer by what was found. Its needs stay, as the way to it on the way back; where
 * they were not met by what is recorded, people found a way that the file does not know, and they are no need.
 */
const gone = (connection: Connection, way: Way, met: boolean, more: number): Way => {
  const { time, people, at, tools, skill } = refitOf(connection, way);
  return {
    ...way,
    time: minutes(0),
    ...(met ? {} : { needs: [], without: [] }),
    refit: {
      ...(way.refit ?? { after: [], fresh: [], then: [] }),
      after: way.refit?.after ?? [],
      fresh: way.refit?.fresh ?? [],
      then: way.refit?.then ?? [],
      time: minutes(time + more),
      people,
      tools,
      ...(at === undefined ? {} : { at }),
      ...(skill === undefined ? {} : { skill }),
    },
  };
};

/** The file and the order that the rest of a run is planned on. Only open findings change anything. */
export const amend = (vehicle: Vehicle, order: Order, ledger: Ledger): Amended => {
  const because: { finding: string; says: string }[] = [];
  const say = ({ entry, found }: Finding, says: string) =>
    because.push({ finding: entry, says: `${found.text}: ${says}` });
  const findings = ledger.findings().filter(({ state }) => state === "open");
  const apart = new Set(
    ledger.brief.joints
      .map(({ id }) => id)
      .filter((id) => !["tied", "refitted", "proved"].includes(ledger.joint(id).state)),
  );

  const met = metBy(vehicle, ledger, apart);
  const connections = vehicle.connections.map((connection): Connection => {
    const standing = ledger.joint(connection.id);
    const about = findings.filter(({ found }) => found.about === connection.id);
    if (apart.has(connection.id)) {
      // Whatever it takes now is done before it can be made again.
      const more = about.reduce((sum, finding) => sum + takesOf(finding), 0);
      for (const finding of about)
        if (takesOf(finding) > 0)
          say(finding, `${connection.label} takes ${takesOf(finding)} min more on the way back`);
      const went = standing.way ?? planned(ledger, connection);
      const way = connection.ways.find(({ id }) => id === went) ?? connection.ways[0];
      return way === undefined
        ? connection
        : { ...connection, ways: [gone(connection, way, way.needs.every(met), more)] };
    }
    let { ways } = connection;
    for (const finding of about) {
      const { found } = finding;
      const takes = takesOf(finding);
      if (found.what === "out of reach" || (found.what === "seized" && takes === 0)) {
        const barred = found.way ?? planned(ledger, connection);
        ways = ways.filter(({ id }) => id !== barred);
        say(finding, `${connection.label} cannot be released that way`);
      } else if (takes > 0) {
        ways = ways.map((way) => ({ ...way, time: minutes(way.time + takes) }));
        say(finding, `${connection.label} takes ${takes} min more`);
      }
    }
    return { ...connection, ways };
  });

  const done = new Set(vehicle.tasks.map(({ id }) => id).filter((id) => ledger.task(id).state === "done"));
  const tasks = vehicle.tasks.map(
    (task): Task =>
      done.has(task.id)
        ? { ...task, time: minutes(0), ...(task.needs.every(met) ? {} : { needs: [], without: [] }) }
        : task,
  );
  const kept: readonly Need[] = [
    ...[...apart]
      .filter((id) => vehicle.connections.some((one) => one.id === id && one.ways.length > 0))
      .map((id) => ({ id })),
    ...vehicle.tasks
      .filter(({ id, undo, phase }) => done.has(id) && undo === undefined && phase === "out")
      .map(({ id }) => ({ id })),
    ...vehicle.parts.flatMap(({ id }) => (ledger.part(id).away?.how === "hung aside" ? [{ clear: id }] : [])),
  ];
  const jobs = vehicle.jobs.map((job) =>
    order.jobs.includes(job.id) ? { ...job, needs: [...job.needs, ...kept] } : job,
  );

  const missing = findings.flatMap((finding) => {
    const { tool } = finding.found;
    if (finding.found.what !== "tool missing" || tool === undefined) return [];
    say(finding, `${tool} is not to be had`);
    return [tool];
  });
  const away = new Set(
    findings.flatMap((finding) => {
      const { person } = finding.found;
      if (finding.found.what !== "person gone" || person === undefined) return [];
      say(finding, `${ledger.brief.people.find(({ id }) => id === person)?.label ?? person} is away`);
      return [person];
    }),
  );
  const people =
    order.people === undefined || typeof order.people === "number"
      ? (order.people ?? ledger.brief.people)
      : order.people;
  return {
    vehicle: { ...vehicle, connections, tasks, jobs },
    order: {
      ...order,
      withoutTools: [...(order.withoutTools ?? []), ...missing],
      people: typeof people === "number" ? Math.max(1, people - away.size) : people.filter(({ id }) => !away.has(id)),
    },
    because,
  };
};

/** Whether a need was met at some time by what is recorded. */
const metBy = (vehicle: Vehicle, ledger: Ledger, apart: ReadonlySet<string>): ((need: Need) => boolean) => {
  const connections = new Set(vehicle.connections.map(({ id }) => id));
  const off = (part: string) => vehicle.connections.every(({ id, joins }) => !joins.includes(part) || apart.has(id));
  const free = (from: string, barred: (part: string) => boolean) =>
    ties(
      { parts: vehicle.parts.map(({ id }) => ({ id, fixed: barred(id) })), connections: vehicle.connections },
      apart,
      [from],
    ).free;
  const fixed = new Set(vehicle.parts.flatMap((part) => (part.fixed ? [part.id] : [])));
  const met = (need: Need): boolean => {
    if ("all" in need) return need.all.every(met);
    if ("any" in need) return need.any.some(met);
    if ("apart" in need) return free(need.apart[0], (part) => part === need.apart[1]);
    if ("out" in need) return free(need.out, (part) => fixed.has(part));
    if ("clear" in need) return off(need.clear) || ledger.part(need.clear).awayTimes > 0;
    if (connections.has(need.id)) return apart.has(need.id);
    return vehicle.parts.some(({ id }) => id === need.id) ? off(need.id) : ledger.task(need.id).done > 0;
  };
  return met;
};

/** The way that the plan would go. */
const planned = (ledger: Ledger, { id, ways }: Connection): string | undefined =>
  ledger.brief.joints.find((one) => one.id === id)?.way ?? ways[0]?.id;

// Owns the effect of a change on times: by what factor each work becomes quicker, how much labour that spares, and how much beyond what it spares a given plan.

import type { Vehicle } from "../vehicle/index.ts";
import { type Change, changeVehicle, type StepChange, timesOf } from "./improve-change.ts";
import { refitOf } from "./refit.ts";

/** How a change that is of times alone alters them. */
export interface Effect {
  /** By work: times what it was. */
  readonly factors: ReadonlyMap<string, number>;
  /** By way or task: person-minutes spared, its refit or return among them. */
  readonly spared: ReadonlyMap<string, number>;
}

/** The effects of changes on the times of a vehicle, each reckoned once for all jobs. */
export class Effects {
  private readonly vehicle: Vehicle;
  private readonly before: ReturnType<typeof timesOf>;
  private readonly known = new Map<string, Effect>();

  constructor(vehicle: Vehicle) {
    this.vehicle = vehicle;
    this.before = timesOf(vehicle);
  }

  of(change: Change): Effect {
    const known = this.known.get(change.id);
    if (known !== undefined) return known;
    const factors = new Map<string, number>();
    const spared = new Map<string, number>();
    for (const [work, { minutes, people }] of timesOf(changeVehicle(this.vehicle, [change]))) {
      const old = this.before.get(work);
      if (old === undefined || old.minutes === minutes) continue;
      if (old.minutes > 0) factors.set(work, minutes / old.minutes);
      const of = work.replace(/^back:/, "");
      spared.set(of, (spared.get(of) ?? 0) + people * (old.minutes - minutes));
    }
    this.known.set(change.id, { factors, spared });
    return { factors, spared };
  }

  /**
   * The change but for what it spares the plan that makes these ways and tasks: of every other way it shortens, only what it spares that more. Undefined where it
   * makes something slower, or is not of releases' and refits' times alone.
   */
  beyond(change: Change, made: ReadonlySet<string>): Change | undefined {
    const { spared } = this.of(change);
    if ([...spared.values()].some((minutes) => minutes < 0)) return undefined;
    const steps = this.vehicle.connections.flatMap((connection): readonly StepChange[] => {
      const own = connection.ways.reduce((sum, { id }) => sum + (made.has(id) ? (spared.get(id) ?? 0) : 0), 0);
      return connection.ways.flatMap((way): readonly StepChange[] => {
        const more = made.has(way.id) ? 0 : (spared.get(way.id) ?? 0) - own;
        if (more <= 0) return [];
        const refit = refitOf(connection, way);
        const off = Math.max(0, way.time - more / way.people);
        const left = more - (way.time - off) * way.people;
        return [{ of: way.id, off, on: Math.max(0, refit.time - left / refit.people) }];
      });
    });
    const tasks = this.vehicle.tasks.flatMap(({ id }): readonly StepChange[] => {
      const given = change.steps.filter(({ of }) => of === id);
      return made.has(id) ? [] : given;
    });
    return { ...change, steps: [...steps, ...tasks] };
  }
}

// Owns the bridge from the vehicle file to a rig: the lifted group hung by the legs on its eyes, from a hook, a beam or two hooks, with the rules of its checks.

import { readQuantity } from "../quantity/index.ts";
import {
  aboutTenth,
  type Box,
  type CheckRules,
  DEFAULT_RULES,
  type Eye,
  eyeRating,
  type Fault,
  type Gear,
  type Leg,
  type LegMaterial,
  legRating,
  legStretch,
  linkPitch,
  madeWithin,
  type Refusal,
  type Remark,
  type Rig,
} from "../rigging/index.ts";
import { indexWords, type SlingLeg, type Vehicle } from "../vehicle/index.ts";
import { nameIn } from "./labels.ts";
import { CENTRE_WITHIN, centreOf, type GroupCentre } from "./lift-centre.ts";
import { asBeam, beamOf, HOOK, hooksOf, legsUp, OF_FILE, ratingOf } from "./lift-hooks.ts";

/** How a lift is to be slung where the call says other than the file. */
export interface Slinging {
  readonly hoist?: string;
  /** Legs of the file by id, or an eye and a length: "front-eye=0.8 m". Absent: every leg of the file on an eye of the group. */
  readonly legs?: readonly string[];
}

export interface LiftRig {
  readonly rig: Rig;
  readonly rules: CheckRules;
  readonly group: GroupCentre;
  /** What came from tables or common practice because the file does not say: a sentence each. */
  readonly assumed: readonly Remark[];
}

/** The lifted group of a plan, as far as slinging it goes. */
export interface Group {
  readonly task: string;
  readonly parts: readonly string[];
  /** Parts that are out of the way by then: set aside, or hung aside. */
  readonly off: readonly string[];
}

/** The rig of a lifted group, or everything that keeps it from being one. */
export function rigOf(vehicle: Vehicle, group: Group, slinging: Slinging = {}): LiftRig | readonly Fault[] {
  const faults: Fault[] = [];
  const assumed: Remark[] = [];
  const parts = vehicle.parts.filter(({ id }) => group.parts.includes(id));
  const centre = centreOf(parts);
  if (centre === undefined) return [{ at: group.task, is: "no centre", parts: parts.map(({ label }) => label) }];
  if (centre.massless.length > 0) assumed.push({ is: "massless", parts: centre.massless });
  if (centre.placeless.length > 0) assumed.push({ is: "placeless", parts: centre.placeless });
  if (centre.assumed) assumed.push({ is: "centre within", length: CENTRE_WITHIN });

  const own = choose(vehicle, group, slinging.legs, faults);
  if (slinging.legs === undefined) assumed.push(...leftOff(vehicle, group, own));
  const beam = beamOf(vehicle, own, group.task, faults);
  const chosen = [...own, ...(beam === undefined ? [] : legsUp(vehicle, beam))];
  const eyes = vehicle.eyes
    .filter(({ id }) => chosen.some(({ from }) => from === id))
    .flatMap((eye): Eye[] => {
      if (eye.at === undefined) {
        faults.push({ at: eye.id, is: "no place of an eye" });
        return [];
      }
      const table = eye.rule !== undefined && eye.thread !== undefined ? eyeRating(eye.rule, eye.thread) : undefined;
      const rating = eye.limit === undefined ? table : ratingOf(eye.limit);
      if (rating !== undefined && rating === table) assumed.push({ is: "eye table", eye: eye.id, ...table });
      const { id, at, axis, face, rule } = eye;
      return [
        {
          id,
          at,
          ...(axis === undefined ? {} : { axis }),
          ...(face === undefined ? {} : { face }),
          ...(rule === undefined ? {} : { rule }),
          ...(rating === undefined ? {} : { rating }),
        },
      ];
    });
  if (faults.length > 0) return faults;

  const task = vehicle.tasks.find(({ id }) => id === group.task);
  const named = slinging.hoist ?? task?.hoist;
  const hoist = vehicle.hoists.find(({ id }) => id === named) ?? (named === undefined ? vehicle.hoists[0] : undefined);
  if (hoist === undefined && named !== undefined) return [{ at: "hoist", is: "no such hoist", hoist: named }];
  const hooks = hooksOf(vehicle, chosen, beam, hoist, faults);
  if (faults.length > 0) return faults;
  const { sharing, factor } = vehicle.lifted ?? {};
  return {
    rig: {
      load: {
        mass: centre.mass,
        centre: centre.centre,
        within: centre.within,
        outline: parts.flatMap(({ id, outline = [] }) =>
          outline.map(({ low, high }, i): Box => ({ id: i === 0 ? id : `${id}/${i + 1}`, low, high })),
        ),
      },
      eyes,
      legs: chosen.map((leg) => legOf(leg, assumed)),
      hooks,
      ...(beam === undefined ? {} : { beam: asBeam(beam) }),
    },
    rules: {
      ...DEFAULT_RULES,
      ...(sharing === undefined ? {} : { sharing }),
      ...(factor === undefined ? {} : { dynamic: { factor, source: OF_FILE, assumed: false } }),
      ...(hoist === undefined
        ? {}
        : {
            hoist: {
              id: hoist.id,
              curve: hoist.reach,
              // As the plan's own check of the hoist: between two figures of its plate on the straight line.
              between: "line",
              ...(task?.reach === undefined ? {} : { reach: task.reach }),
              ...(hoist.tackle === undefined ? {} : { tackle: hoist.tackle }),
            },
          }),
    },
    group: centre,
    assumed,
  };
}

/** Legs of the file whose eyes stay behind, but for those that another lift of the file is for. */
function leftOff(vehicle: Vehicle, { task }: Group, own: readonly SlingLeg[]): Remark[] {
  const { legs = [], eyes, tasks } = vehicle;
  const elsewhere = new Set(tasks.filter(({ id }) => id !== task).flatMap(({ lifts }) => lifts));
  return legs.flatMap(({ id, from }): Remark[] => {
    const on = eyes.find((eye) => eye.id === from)?.on;
    if (on === undefined || elsewhere.has(on) || own.some((leg) => leg.id === id)) return [];
    return [{ is: "leg left off", leg: id, eye: from, part: nameIn(vehicle, on) }];
  });
}

/** The legs asked for, each on an eye of the group. */
function choose(
  vehicle: Vehicle,
  { parts, task }: Group,
  asked: readonly string[] | undefined,
  faults: Fault[],
): SlingLeg[] {
  const legs = vehicle.legs ?? [];
  const onGroup = (eye: string): boolean => {
    const on = vehicle.eyes.find(({ id }) => id === eye)?.on;
    return on !== undefined && parts.includes(on);
  };
  if (asked === undefined) {
    const mine = legs.filter(({ from }) => onGroup(from));
    if (mine.length > 0) return mine;
    const strange = legs.map(({ from }) => `${from} (${vehicle.eyes.find(({ id }) => id === from)?.on ?? "?"})`);
    faults.push(strange.length === 0 ? { at: task, is: "no legs" } : { at: task, is: "no leg on it", eyes: strange });
    return [];
  }
  return asked.flatMap((word): SlingLeg[] => {
    const [name = "", length] = word.split("=").map((one) => one.trim());
    const known = length === undefined ? legs.map(({ id }) => id) : vehicle.eyes.map(({ id }) => id);
    const leg = legs.find((one) => (length === undefined ? one.id : one.from) === name);
    const fail = (refusal: Refusal): [] => {
      faults.push({ at: `--legs ${word}`, ...refusal });
      return [];
    };
    if (!known.includes(name)) {
      const near = indexWords(known)(name);
      const others = { known, ...(near === undefined ? {} : { near }) };
      return fail(
        length === undefined
          ? { is: "no such leg", leg: name, ...others }
          : { is: "no such eye", eye: name, ...others },
      );
    }
    const from = length === undefined ? (leg?.from ?? "") : name;
    if (!onGroup(from))
      return fail({
        is: "stays behind",
        eye: from,
        part: vehicle.eyes.find(({ id }) => id === from)?.on ?? "?",
        task,
      });
    if (length === undefined) return leg === undefined ? [] : [leg];
    const reading = readQuantity(length, "length");
    if ("fault" in reading) {
      const { what, mend } = reading.fault;
      return fail({ is: "unread length", what, mend });
    }
    const { nominal, low, high } = reading.value;
    const within = (high - low) / 2;
    return [
      {
        ...(leg ?? { id: `leg-${name}`, from: name }),
        length: nominal,
        ...(within > 0 ? { within: within as SlingLeg["length"] } : {}),
      },
    ];
  });
}

function materialOf({ kind, size, grade = "8", colour }: SlingLeg): LegMaterial | undefined {
  if (kind === "web") return colour === undefined ? undefined : { what: "web", colour };
  if (kind === undefined || size === undefined) return undefined;
  const millimetres = Math.round(size * 10_000) / 10;
  return kind === "chain" ? { what: "chain", size: millimetres, grade } : { what: "wire rope", size: millimetres };
}

function legOf(leg: SlingLeg, assumed: Remark[]): Leg {
  const { id, from, length, shackle, links } = leg;
  const material = materialOf(leg);
  const stretch = material === undefined ? undefined : legStretch(material);
  const stiffness = leg.stiffness ?? stretch?.stiffness;
  if (stiffness === undefined) assumed.push({ is: "leg stiff", leg: id });
  else if (stretch !== undefined && leg.stiffness === undefined)
    assumed.push({ is: "leg stretch", leg: id, source: stretch.source });
  if (leg.stiffness !== undefined) assumed.push({ is: "leg tenth", leg: id });
  const table = leg.limit === undefined && material !== undefined ? legRating(material) : undefined;
  if (table !== undefined) assumed.push({ is: "leg table", leg: id, ...table });
  const rating = leg.limit === undefined ? table : ratingOf(leg.limit);
  const within = leg.within ?? madeWithin(length);
  if (leg.within === undefined) assumed.push({ is: "leg made", leg: id, length: within });
  const takeUp =
    leg.takeUp ??
    (links !== undefined && material?.what === "chain"
      ? { step: linkPitch(material.size), most: links, taken: 0 }
      : undefined);
  const gear: Gear[] = [
    { id: material?.what ?? "leg", what: material?.what ?? "link", reductions: [], ...(rating ? { rating } : {}) },
  ];
  if (shackle !== undefined)
    gear.push({
      id: "shackle",
      what: "shackle",
      reductions: [],
      ...(shackle.limit === undefined ? {} : { rating: ratingOf(shackle.limit) }),
      ...(shackle.side === undefined ? {} : { side: (shackle.side * 180) / Math.PI }),
    });
  return {
    id,
    lower: from,
    upper: leg.to ?? HOOK,
    length,
    within,
    ...(stiffness === undefined ? {} : { stiffness }),
    ...(leg.stiffness === undefined ? {} : { stiffnessWithin: aboutTenth(leg.stiffness) }),
    gear,
    ...(takeUp === undefined ? {} : { takeUp }),
  };
}

// Owns the small rig file, `*.rig.yaml`, as the plain value that a YAML parser makes of it: read into a rig, or every fault with its place.
//
// Every quantity is text with its unit; a bare number is a fault. Who parses the YAML, and gives the faults their lines, stands outside.

import { readQuantity } from "../quantity/index.ts";
import { EYE_RULES, LEG_KINDS, WEB_COLOURS } from "../vehicle/index.ts";
import { DEFAULT_RULES } from "./check.ts";
import { eyeRating } from "./eye.ts";
import { type LegMaterial, legRating, legStretch, linkPitch, madeWithin } from "./gear.ts";
import type { Stretch } from "./path.ts";
import {
  type Beam,
  type Box,
  type CheckRules,
  type Eye,
  type Gear,
  type Hook,
  type Leg,
  type Rating,
  type Rig,
  SHARING_RULES,
  type Spread,
  type Stated,
  type TakeUp,
  type Vector,
} from "./problem.ts";
import type { Remark } from "./remark.ts";

export interface RigFile {
  readonly name: string;
  readonly rig: Rig;
  readonly rules: CheckRules;
  /** What stays where it is, and the way the load goes; empty where the file says nothing. */
  readonly obstacles: readonly Box[];
  readonly path: readonly Stretch[];
  /** What came from built-in tables because the file does not say. */
  readonly assumed: readonly Remark[];
}
/** Where in the file, what is wrong there, and what would mend it. */
export interface FileFault {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

export type RigReading = { readonly file: RigFile } | { readonly faults: readonly FileFault[] };

type Fields = Readonly<Record<string, unknown>>;
type Dimension = Parameters<typeof readQuantity>[1];

/** Reads a rig file, already parsed. */
export function readRig(document: unknown): RigReading {
  const reader = new Reader();
  const file = reader.file(document);
  return reader.faults.length > 0 ? { faults: reader.faults } : { file };
}

const RIG_KEYS = [
  "rig",
  "name",
  "load",
  "eyes",
  "legs",
  "hooks",
  "beam",
  "hoist",
  "checks",
  "obstacles",
  "path",
  "stated",
];
/** Metres by which a figure that is given besides may differ where the file does not say. */
const STATED_WITHIN = 0.005;
/** What a stiffness is known to that is stated without a tolerance. */
export const aboutTenth = (newtons: number): readonly [number, number] => [0.9 * newtons, 1.1 * newtons];

class Reader {
  readonly faults: FileFault[] = [];
  private readonly assumed: Remark[] = [];

  file(document: unknown): RigFile {
    const top = this.map(document, "", [...RIG_KEYS]);
    if (top.rig !== "unmoor-rig/1")
      this.say("rig", "the file does not say what it is", "Begin it with rig: unmoor-rig/1.");
    const load = this.map(top.load, "load", ["mass", "centre", "within", "outline"]);
    const rig: Rig = {
      load: {
        mass: this.spread(load.mass, "mass", "load.mass"),
        centre: this.point(load.centre, "load.centre"),
        within: load.within === undefined ? [0, 0, 0] : this.point(load.within, "load.within"),
        outline: this.entries(load.outline, "load.outline").map(([id, each, at]) => this.box(id, each, at)),
      },
      eyes: this.entries(top.eyes, "eyes").map(([id, each, at]) => this.eye(id, each, at)),
      legs: this.entries(top.legs, "legs").map(([id, each, at]) => this.leg(id, each, at)),
      hooks:
        top.hooks === undefined
          ? [{ id: "hook" }]
          : this.entries(top.hooks, "hooks").map(([id, each, at]) => this.hook(id, each, at)),
      ...(top.beam === undefined ? {} : { beam: this.beam(top.beam) }),
      ...(top.stated === undefined
        ? {}
        : { stated: this.items(top.stated, "stated").map(([each, at]) => this.stated(each, at)) }),
    };
    return {
      name: typeof top.name === "string" ? top.name : "The load",
      rig,
      rules: this.rules(top.checks, top.hoist),
      obstacles: this.entries(top.obstacles, "obstacles").map(([id, each, at]) => this.box(id, each, at)),
      path: this.items(top.path, "path").map(([each, at], i) => this.stretch(each, at, i)),
      assumed: this.assumed,
    };
  }

  private say(at: string, what: string, mend: string): void {
    this.faults.push({ at, what, mend });
  }

  private map(value: unknown, at: string, keys?: readonly string[]): Fields {
    if (typeof value !== "object" || value === null || Array.isArray(value)) {
      this.say(
        at,
        value === undefined ? "it is missing" : "a map is wanted here",
        keys ? `Give ${keys.slice(0, 4).join(", ")} …` : "Give a name to each.",
      );
      return {};
    }
    for (const key of keys ? Object.keys(value) : [])
      if (!keys?.includes(key))
        this.say(at === "" ? key : `${at}.${key}`, `"${key}" is no key here`, `Known are ${keys?.join(", ")}.`);
    return value as Fields;
  }

  private entries(value: unknown, at: string): [string, unknown, string][] {
    return value === undefined
      ? []
      : Object.entries(this.map(value, at)).map(([id, each]) => [id, each, `${at}.${id}`]);
  }

  private items(value: unknown, at: string): [unknown, string][] {
    if (value === undefined) return [];
    if (Array.isArray(value)) return value.map((each, i) => [each, `${at}.${i}`]);
    this.say(at, "a list is wanted here", "Write each behind a hyphen, or all in [ ].");
    return [];
  }

  private stretch(value: unknown, at: string, index: number): Stretch {
    const { move, pitch, roll, label } = this.map(value, at, ["move", "pitch", "roll", "label"]);
    const degrees = (turn: unknown, where: string): number =>
      turn === undefined ? 0 : (this.one(turn, "angle", where) * 180) / Math.PI;
    return {
      move: this.point(move, `${at}.move`),
      label: typeof label === "string" ? label : `stretch ${index + 1}`,
      ...(pitch === undefined && roll === undefined
        ? {}
        : { to: { pitch: degrees(pitch, `${at}.pitch`), roll: degrees(roll, `${at}.roll`) } }),
    };
  }

  /** A figure that the rest fixes: of a leg its run across, its rise, its angle; or the span of two eyes. */
  private stated(value: unknown, at: string): Stated {
    const fields = this.map(value, at, ["leg", "across", "height", "angle", "from", "to", "span", "within"]);
    const within = fields.within === undefined ? STATED_WITHIN : this.one(fields.within, "length", `${at}.within`);
    if (fields.leg === undefined)
      return {
        from: String(fields.from ?? ""),
        to: String(fields.to ?? ""),
        span: this.one(fields.span, "length", `${at}.span`),
        within,
      };
    return {
      leg: String(fields.leg),
      within,
      ...(fields.across === undefined ? {} : { across: this.one(fields.across, "length", `${at}.across`) }),
      ...(fields.height === undefined ? {} : { height: this.one(fields.height, "length", `${at}.height`) }),
      ...(fields.angle === undefined
        ? {}
        : { angle: (this.one(fields.angle, "angle", `${at}.angle`) * 180) / Math.PI }),
    };
  }

  private spread(value: unknown, dimension: Dimension, at: string): Spread {
    const none = { nominal: Number.NaN, low: Number.NaN, high: Number.NaN };
    if (typeof value !== "string") {
      this.say(
        at,
        value === undefined ? "it is missing" : `${JSON.stringify(value)} has no unit`,
        `Give its ${dimension} with a unit.`,
      );
      return none;
    }
    const reading = readQuantity(value, dimension);
    if ("fault" in reading) {
      this.say(at, reading.fault.what, reading.fault.mend);
      return none;
    }
    const { nominal, low, high } = reading.value;
    return { nominal, low, high };
  }

  private one(value: unknown, dimension: Dimension, at: string): number {
    const { nominal, low, high } = this.spread(value, dimension, at);
    if (high > low) this.say(at, "a tolerance has no place here", "Give one value.");
    return nominal;
  }

  /** A mass that makes a check easier the less it is: so never less than nothing, and of a limit never nothing. */
  private weight(value: unknown, at: string, mayBeNone = false): number {
    const kilograms = this.one(value, "mass", at);
    if (kilograms < 0 || (kilograms === 0 && !mayBeNone))
      this.say(at, `${kilograms} kg is not above nothing`, "Give what it is.");
    return kilograms;
  }

  private point(value: unknown, at: string): Vector {
    if (Array.isArray(value) && value.length === 3) {
      const [x, y, z] = value.map((each, i) => this.one(each, "length", `${at}.${i}`));
      return [x!, y!, z!];
    }
    this.say(at, "a point is three lengths", "Write [x, y, z] with units, x forward, y left, z up.");
    return [Number.NaN, Number.NaN, Number.NaN];
  }

  private direction(value: unknown, at: string): Vector {
    const parts = Array.isArray(value) ? value.map(Number) : [];
    if (parts.length === 3 && parts.every(Number.isFinite) && parts.some((x) => x !== 0))
      return [parts[0]!, parts[1]!, parts[2]!];
    this.say(at, "a direction is three bare figures", "Write [0, 0, 1] for straight up.");
    return [0, 0, 1];
  }

  private word<T extends string>(value: unknown, known: readonly T[], at: string): T | undefined {
    const found = known.find((each) => each === value);
    if (value !== undefined && found === undefined)
      this.say(at, `"${String(value)}" is not known here`, `Known are ${known.join(", ")}.`);
    return found;
  }

  private rating(value: unknown, at: string): Rating | undefined {
    return value === undefined
      ? undefined
      : { kilograms: this.weight(value, at), source: "the rig file", assumed: false };
  }

  private box(id: string, value: unknown, at: string): Box {
    const { from, to } = this.map(value, at, ["from", "to"]);
    const [one, other] = [this.point(from, `${at}.from`), this.point(to, `${at}.to`)];
    // Which of two corners comes first says nothing.
    const corner = (pick: (...values: number[]) => number): Vector => [
      pick(one[0], other[0]),
      pick(one[1], other[1]),
      pick(one[2], other[2]),
    ];
    return { id, low: corner(Math.min), high: corner(Math.max) };
  }

  private eye(id: string, value: unknown, at: string): Eye {
    const fields = this.map(value, at, ["at", "axis", "face", "limit", "rule", "thread"]);
    const rule = this.word(fields.rule, EYE_RULES, `${at}.rule`);
    const given = this.rating(fields.limit, `${at}.limit`);
    const table =
      given === undefined && rule !== undefined && typeof fields.thread === "string"
        ? eyeRating(rule, fields.thread)
        : undefined;
    if (table) this.assumed.push({ is: "eye table", eye: id, ...table });
    const rating = given ?? table;
    return {
      id,
      at: this.point(fields.at, `${at}.at`),
      ...(fields.axis === undefined ? {} : { axis: this.direction(fields.axis, `${at}.axis`) }),
      ...(fields.face === undefined ? {} : { face: this.direction(fields.face, `${at}.face`) }),
      ...(rating === undefined ? {} : { rating }),
      ...(rule === undefined ? {} : { rule }),
    };
  }

  private leg(id: string, value: unknown, at: string): Leg {
    const fields = this.map(value, at, [
      "from",
      "to",
      "length",
      "kind",
      "size",
      "grade",
      "colour",
      "limit",
      "stiffness",
      "links",
      "take-up",
      "shackle",
    ]);
    const length = this.spread(fields.length, "length", `${at}.length`);
    const material = this.material(fields, at);
    const stretch = material && legStretch(material);
    const said = fields.stiffness === undefined ? undefined : this.spread(fields.stiffness, "force", `${at}.stiffness`);
    const stiffness = said?.nominal ?? stretch?.stiffness;
    const exactly = said !== undefined && !(said.high > said.low);
    if (stiffness === undefined) this.assumed.push({ is: "leg stiff", leg: id });
    if (exactly) this.assumed.push({ is: "leg tenth", leg: id });
    if (fields.stiffness === undefined && stretch)
      this.assumed.push({ is: "leg stretch", leg: id, source: stretch.source });
    const table = fields.limit === undefined && material ? legRating(material) : undefined;
    if (table) this.assumed.push({ is: "leg table", leg: id, ...table });
    const rating = this.rating(fields.limit, `${at}.limit`) ?? table;
    const within = length.high > length.low ? (length.high - length.low) / 2 : madeWithin(length.nominal);
    if (!(length.high > length.low)) this.assumed.push({ is: "leg made", leg: id, length: within });
    const takeUp = this.takeUp(fields, material, at);
    const gear: Gear[] = [
      { id: material?.what ?? "leg", what: material?.what ?? "link", reductions: [], ...(rating ? { rating } : {}) },
    ];
    if (fields.shackle !== undefined) {
      const shackle = this.map(fields.shackle, `${at}.shackle`, ["limit", "side"]);
      const limit = this.rating(shackle.limit, `${at}.shackle.limit`);
      gear.push({
        id: "shackle",
        what: "shackle",
        reductions: [],
        ...(limit ? { rating: limit } : {}),
        ...(shackle.side === undefined
          ? {}
          : { side: (this.one(shackle.side, "angle", `${at}.shackle.side`) * 180) / Math.PI }),
      });
    }
    return {
      id,
      lower: String(fields.from ?? ""),
      upper: String(fields.to ?? "hook"),
      length: length.nominal,
      within,
      ...(stiffness === undefined ? {} : { stiffness }),
      ...(said === undefined
        ? {}
        : { stiffnessWithin: exactly ? aboutTenth(said.nominal) : ([said.low, said.high] as const) }),
      gear,
      ...(takeUp ? { takeUp } : {}),
    };
  }

  private material(fields: Fields, at: string): LegMaterial | undefined {
    const what = this.word(fields.kind, LEG_KINDS, `${at}.kind`);
    if (what === undefined) return undefined;
    if (what === "web") {
      const colour = this.word(fields.colour, WEB_COLOURS, `${at}.colour`);
      if (colour !== undefined) return { what, colour };
      if (fields.colour === undefined) this.unsaid(fields, at, "a web of no colour", "its colour");
      return undefined;
    }
    if (fields.size === undefined) {
      this.unsaid(fields, at, `a ${what} of no size`, "its size");
      return undefined;
    }
    const size = this.one(fields.size, "length", `${at}.size`);
    if (!(size > 0)) this.say(`${at}.size`, "it is not above nothing", "Give what it is.");
    const rounded = Math.round(10_000 * size) / 10;
    if (what === "wire rope") return { what, size: rounded };
    return {
      what,
      size: rounded,
      grade: this.word(String(fields.grade ?? "8"), ["8", "10"] as const, `${at}.grade`) ?? "8",
    };
  }

  /** What it is made of says nothing without this; but a limit of its own is enough to be checked by. */
  private unsaid(fields: Fields, at: string, what: string, wanted: string): void {
    if (fields.limit === undefined)
      this.say(at, `${what} has neither limit nor stretch`, `Give ${wanted}, or the limit on its tag.`);
  }

  private takeUp(fields: Fields, material: LegMaterial | undefined, at: string): TakeUp | undefined {
    const whole = (value: unknown, where: string): number => {
      const count = Number(value);
      if (Number.isInteger(count) && count >= 0) return count;
      this.say(where, `${JSON.stringify(value)} is no whole number`, "Give a count.");
      return 0;
    };
    if (fields.links !== undefined) {
      if (material?.what === "chain")
        return { step: linkPitch(material.size), most: whole(fields.links, `${at}.links`), taken: 0 };
      this.say(
        `${at}.links`,
        "links are of a chain of known size",
        "Say kind: chain and its size, or give take-up with its step.",
      );
    }
    if (fields["take-up"] === undefined) return undefined;
    const given = this.map(fields["take-up"], `${at}.take-up`, ["step", "most", "taken"]);
    return {
      step: this.one(given.step, "length", `${at}.take-up.step`),
      most: whole(given.most, `${at}.take-up.most`),
      taken: given.taken === undefined ? 0 : whole(given.taken, `${at}.take-up.taken`),
    };
  }

  private hook(id: string, value: unknown, at: string): Hook {
    const fields = this.map(value ?? {}, at, ["at", "limit"]);
    const rating = this.rating(fields.limit, `${at}.limit`);
    return {
      id,
      ...(fields.at === undefined ? {} : { at: this.point(fields.at, `${at}.at`) }),
      ...(rating ? { rating } : {}),
    };
  }

  private beam(value: unknown): Beam {
    const fields = this.map(value, "beam", ["mass", "centre", "points", "pin", "limit"]);
    const rating = this.rating(fields.limit, "beam.limit");
    return {
      mass: this.one(fields.mass, "mass", "beam.mass"),
      centre: this.point(fields.centre, "beam.centre"),
      points: this.entries(fields.points, "beam.points").map(([id, each, at]) => ({ id, at: this.point(each, at) })),
      ...(fields.pin === undefined ? {} : { pin: String(fields.pin) }),
      ...(rating ? { rating } : {}),
    };
  }

  private rules(value: unknown, hoist: unknown): CheckRules {
    const fields = value === undefined ? {} : this.map(value, "checks", ["sharing", "factor"]);
    const sharing = this.word(fields.sharing, SHARING_RULES, "checks.sharing") ?? DEFAULT_RULES.sharing;
    const factor = fields.factor === undefined ? undefined : Number(fields.factor);
    if (factor !== undefined && !(factor >= 1))
      this.say("checks.factor", `${String(fields.factor)} is no factor`, "Give 1 or more.");
    const given = hoist === undefined ? undefined : this.map(hoist, "hoist", ["reach", "curve", "tackle"]);
    const curve = Array.isArray(given?.curve) ? given.curve : [];
    return {
      ...DEFAULT_RULES,
      sharing,
      ...(factor === undefined ? {} : { dynamic: { factor, source: "the rig file", assumed: false } }),
      ...(given
        ? {
            hoist: {
              id: "hoist",
              curve: curve.map((row: unknown, i) => {
                const [reach, limit] = Array.isArray(row) ? row : [];
                return [this.one(reach, "length", `hoist.curve.${i}`), this.weight(limit, `hoist.curve.${i}`)] as const;
              }),
              ...(given.reach === undefined ? {} : { reach: this.one(given.reach, "length", "hoist.reach") }),
              ...(given.tackle === undefined ? {} : { tackle: this.weight(given.tackle, "hoist.tackle", true) }),
            },
          }
        : {}),
    };
  }
}

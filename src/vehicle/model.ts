// Owns the vehicle as the rest of the house sees it: what a vehicle file says, read, checked and in SI units.
// The reader (read.ts) makes it; nobody else builds one from text. Every id is unique across the whole file.

import type {
  Kilograms,
  Litres,
  Metres,
  Minutes,
  NewtonMetres,
  Newtons,
  NewtonsPerMetre,
  Pascals,
  Radians,
} from "../quantity/index.ts";

/** A point in the vehicle's frame, ISO 8855 axes (x forward, y left, z up), in metres. */
export type Point = readonly [Metres, Metres, Metres];

/** A value with the limits that its tolerance gives; without a tolerance low = nominal = high. */
export interface Limited<V> {
  readonly nominal: V;
  readonly low: V;
  readonly high: V;
}
export type Mass = Limited<Kilograms>;
export type Torque = Limited<NewtonMetres>;

/**
 * What must hold before a step. A bare id is a connection (released), a part (off: its every connection is
 * released) or a task (done and, where it has an `undo`, not undone). `clear` holds when the part is off or has
 * been hung aside. `out` holds when no chain of unreleased connections joins the part to a fixed part.
 */
export type Need =
  | { readonly id: string }
  | { readonly all: readonly Need[] }
  | { readonly any: readonly Need[] }
  | { readonly apart: readonly [string, string] }
  | { readonly out: string }
  | { readonly clear: string };

/** One thing that is put in for the job and must come out again: a plug, a cap, a guide stud, a strap, a jack. */
export interface Temporary {
  readonly item: string;
  readonly count: number;
}

/** What every piece of work says of itself, whichever step it belongs to. */
export interface Work {
  /** The position it is done at; absent where it does not matter. */
  readonly at?: string;
  readonly time: Minutes;
  readonly people: number;
  readonly needs: readonly Need[];
  /** Tasks with an `undo` that must be undone (or not yet done) while this is done. */
  readonly without: readonly string[];
  readonly tools: readonly string[];
  readonly skill?: string;
  /** Makes sparks or heat: never while somebody works on a fuel. */
  readonly sparks?: boolean;
}

/** One way to release a connection. Its id is `<connection>/<n>`, n from 1 in the order of the file. */
export interface Way extends Work {
  readonly id: string;
  readonly label?: string;
  /** Loosened only: nothing is taken away, the hardware stays in place and is tightened again. */
  readonly loosen: boolean;
  /** This way's own refit figures, where they differ from the connection's. */
  readonly refit?: Refit;
}

/** How a connection is made again. What the file leaves out is taken from the chosen way; `assumed` says which. */
export interface Refit {
  readonly time?: Minutes;
  readonly people?: number;
  readonly at?: string;
  /** Connections, parts or tasks that must be back (refitted, on, done) before this is refitted. */
  readonly after: readonly string[];
  /** Begins at most so long after the end of each step it comes `after`: sealant sets. */
  readonly within?: Minutes;
  readonly tools: readonly string[];
  readonly skill?: string;
  /** Of each fastener, as its source gives it: to the full torque, or to a preload from which the torque is reckoned. Neither: nobody said. */
  readonly torque?: Torque;
  readonly preload?: Newtons;
  /** Turned on after the torque, and the length that is clamped. */
  readonly turn?: Radians;
  readonly grip?: Metres;
  /** Torques of the stages, rising, the last the full one. */
  readonly stages?: readonly NewtonMetres[];
  readonly pattern?: string;
  /** The threads as they go in, and as the torque is meant for. */
  readonly threads?: ThreadState;
  readonly meant?: ThreadState;
  readonly friction?: Rubbing;
  /** Running torque of a locknut or insert. */
  readonly running?: NewtonMetres;
  /** Two people read its torque without seeing each other's figure; absent: of what carries and has a torque. */
  readonly critical?: boolean;
  /** What all fasteners together must clamp, and what pushes them apart: a pressure on a seal of this diameter. */
  readonly clamp?: Newtons;
  readonly pressure?: Pascals;
  readonly bore?: Metres;
  readonly consumes?: readonly Consumed[];
  /** What must be new: "seal 32", "split pin 4". */
  readonly fresh: readonly string[];
  readonly check?: string;
  /** Tasks of the way back that this refit calls for: bleed, adjust, test. */
  readonly then: readonly string[];
}

export interface Hardware {
  readonly item: string;
  readonly class?: string;
  readonly count: number;
  readonly reuse: boolean;
  /** May be tightened once only. */
  readonly once?: boolean;
  /** Places of the layout, where lengths differ. */
  readonly holes?: readonly string[];
}

/** How threads are found, in the words of the trade. */
export const THREAD_STATES = [
  "dry",
  "oiled",
  "moly",
  "waxed",
  "anti-seize",
  "zinc",
  "cadmium",
  "phosphate and oil",
  "stainless",
  "thread-lock",
] as const;
export type ThreadState = (typeof THREAD_STATES)[number];

/** Friction as it was measured: of thread and head alike, or the nut factor of both. */
export interface Rubbing {
  readonly kind: "coefficient" | "nut factor";
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}

/** What is used up at a refit; without an amount as much as it takes. Litres, kilograms or metres. */
export interface Consumed {
  readonly item: string;
  readonly amount?: { readonly value: number; readonly dimension: "volume" | "mass" | "length" };
}

/** Where the bolts of a joint are, seen from the wrench. */
export type Layout =
  | { readonly circle: number }
  | { readonly line: number }
  | { readonly rows: number; readonly columns: number; readonly edge: boolean }
  | { readonly at: readonly (readonly [Metres, Metres])[] };

export interface Held {
  readonly fluid: string;
  readonly amount?: Litres;
}

/** The kinds of connection that the design names, in its order. */
export const KINDS = [
  "hose",
  "line",
  "cable",
  "wire",
  "strap",
  "linkage",
  "rod",
  "spring",
  "clamp",
  "clip",
  "flange",
  "bracket",
  "coupling",
  "shaft joint",
  "bolted joint",
  "mount",
  "cover fixing",
] as const;
export type Kind = (typeof KINDS)[number];

/** Kinds that bear weight unless the file says otherwise. */
export const CARRYING_KINDS: readonly Kind[] = ["mount", "bolted joint", "flange", "bracket", "strap"];

export interface Connection {
  readonly id: string;
  readonly label: string;
  readonly joins: readonly string[];
  readonly kind: Kind;
  readonly at?: Point;
  readonly carrying: boolean;
  /** Carrying only: bears from below, so it still bears (not sideways, not upwards) when released. Needs `at`. */
  readonly rests: boolean;
  /** Free length: how far the two ends may be moved apart with the connection still made. */
  readonly slack: Metres;
  /** What it pulls with once its slack is used up, when it was forgotten; by kind where the file does not say. */
  readonly stiffness?: NewtonsPerMetre;
  readonly holds?: Held;
  /** What runs in it when it is not isolated: "24 V", "400 V". */
  readonly live?: string;
  /** This release isolates that energy (the battery's earth lead: `isolates: 24 V`). */
  readonly isolates: readonly string[];
  /** Cannot be seen from where people stand: looked for first when the ties are verified. */
  readonly hidden: boolean;
  readonly ways: readonly Way[];
  readonly refit: Refit;
  readonly hardware: readonly Hardware[];
  readonly layout?: Layout;
  /** Mating marks to make before parting. */
  readonly mark?: string;
  /** What closes the opening, once per end: "plug 16 mm". Counted out again at refit. */
  readonly plug: readonly Temporary[];
  readonly protect?: string;
  /** What to catch when it is opened: "0.4 L coolant". */
  readonly catch?: string;
  /** What is kept with its place: shims, spacers. */
  readonly keep?: string;
  readonly temporary: readonly Temporary[];
  readonly note?: string;
}

/** A way to move a part out of the way while its other ties stay on: strapped to `to`, which holds it while it is light enough for two hands. */
export interface Hang extends Work {
  /** `<part>/hang-<n>`, n from 1 in the order of the file. */
  readonly id: string;
  readonly to: string;
  /** How far the part is moved: every tie left on must have at least this slack. */
  readonly moves: Metres;
  readonly undo?: { readonly time: Minutes; readonly people: number };
  readonly temporary: readonly Temporary[];
}

export interface Part {
  readonly id: string;
  readonly label: string;
  readonly fixed: boolean;
  readonly mass?: Mass;
  readonly centre?: Point;
  /** How far its centre may be out, ± in each coordinate. */
  readonly within?: Metres;
  /** What it fills. */
  readonly outline?: readonly Box[];
  readonly hang: readonly Hang[];
  readonly note?: string;
}

export interface Position {
  readonly id: string;
  readonly label: string;
  readonly people: number;
  readonly needs: readonly Need[];
  readonly without: readonly string[];
  readonly at?: Point;
}

export interface Task extends Work {
  readonly id: string;
  readonly label: string;
  /** Set and undone as often as the plan needs: raise / lower, tilt / let down. */
  readonly undo?: { readonly label?: string; readonly time: Minutes; readonly people: number };
  /** Its return on the way back, once: fill after drain. Absent for a task with `undo`. */
  readonly back?: {
    readonly label: string;
    readonly time: Minutes;
    readonly people: number;
    readonly at?: string;
    readonly after: readonly string[];
  };
  /** "back": belongs to the way back only (bleed, adjust, test), done when something calls for it or `needs` it. */
  readonly phase: "out" | "back";
  /** Back tasks only: what must be back before it. */
  readonly after: readonly string[];
  /** Back tasks only: begins at most so long after the end of each step it comes `after`. */
  readonly within?: Minutes;
  /** Whether it may stop for a break and go on after; absent: yes, unless it lifts or supports or is a state. */
  readonly pauses?: boolean;
  /** Time that nobody need stand by: draining, cooling. Not labour. */
  readonly wait?: Minutes;
  readonly supports: readonly string[];
  /** The parts the hoist takes hold of; what is still tied to them goes up with them. */
  readonly lifts: readonly string[];
  /** Horizontal reach of the hoist at this lift. */
  readonly reach?: Metres;
  readonly hoist?: string;
  /** The way of the load, in the order it goes. */
  readonly path?: readonly PathStretch[];
  /** Where it bears what it supports, or lifts from below. */
  readonly pads?: readonly Pad[];
  /** Positions that nobody may be at meanwhile. */
  readonly empties: readonly string[];
  readonly drains: readonly string[];
  /** How much runs out, of each where it drains more than one. */
  readonly amount?: Litres;
  readonly isolates: readonly string[];
  readonly temporary: readonly Temporary[];
  readonly note?: string;
}

export interface JobWork extends Work {
  readonly label: string;
  /** What a second person looks at before the work is closed over. */
  readonly check?: string;
}

export interface Job {
  readonly id: string;
  readonly label: string;
  readonly needs: readonly Need[];
  readonly work: readonly JobWork[];
  /** The parts that come made up with the new assembly; what hangs on the old by them is carried over. */
  readonly swap: readonly string[];
}

/** A box with faces square to the axes. */
export interface Box {
  readonly low: Point;
  readonly high: Point;
}

/** Something that stays where it is while the load goes by. */
export interface Obstacle extends Box {
  readonly id: string;
  readonly label: string;
}

/** How an eye loses by the angle of the pull: sources disagree, so each rule has a name. */
export const EYE_RULES = [
  "any direction",
  "axial only",
  "us shoulder pattern",
  "us metric machinery",
  "din 580",
  "bs 4278",
  "within 20 degrees",
] as const;

export type Direction = readonly [number, number, number];

export interface Eye {
  readonly id: string;
  readonly on: string;
  readonly at?: Point;
  readonly limit?: Kilograms;
  readonly kind?: string;
  readonly rule?: (typeof EYE_RULES)[number];
  readonly thread?: string;
  readonly axis?: Direction;
  readonly face?: Direction;
}

export const LEG_KINDS = ["chain", "wire rope", "web"] as const;
/** Of webs and round slings, by the load they bear: EN 1492. */
export const WEB_COLOURS = ["violet", "green", "yellow", "grey", "red", "brown", "blue", "orange"] as const;

/** A leg of the sling, from an eye or a point of a beam up to a hook or a point of a beam. */
export interface SlingLeg {
  readonly id: string;
  readonly from: string;
  /** Absent: the hook of the hoist. */
  readonly to?: string;
  /** Without load, nothing taken up; and how far that may be out, ±. */
  readonly length: Metres;
  readonly within?: Metres;
  readonly kind?: (typeof LEG_KINDS)[number];
  readonly size?: Metres;
  readonly grade?: "8" | "10";
  readonly colour?: (typeof WEB_COLOURS)[number];
  readonly limit?: Kilograms;
  /** EA. */
  readonly stiffness?: Newtons;
  readonly links?: number;
  readonly takeUp?: { readonly step: Metres; readonly most: number; readonly taken: number };
  readonly shackle?: { readonly limit?: Kilograms; readonly side?: Radians };
}

/** A hook that legs name: where two lift together each has its place before the lift. */
export interface LiftHook {
  readonly id: string;
  readonly at?: Point;
  readonly limit?: Kilograms;
}

export interface BeamPoint {
  readonly id: string;
  readonly at: Point;
}

/** A lifting beam or spreader, in axes of its own, level as drawn. */
export interface LiftBeam {
  readonly id: string;
  readonly mass: Kilograms;
  readonly centre: Point;
  readonly points: readonly BeamPoint[];
  /** The point that hangs on the hook itself; absent: legs go up from its points. */
  readonly pin?: string;
  readonly limit?: Kilograms;
}

/** One stretch of a lift's path. */
export interface PathStretch {
  readonly move: Point;
  readonly pitch?: Radians;
  readonly roll?: Radians;
  readonly label?: string;
}

/** Where a jack, a stand or a table bears from below. */
export interface Pad {
  readonly at: Point;
  /** Forward and across. */
  readonly size?: readonly [Metres, Metres];
  readonly stiffness?: NewtonsPerMetre;
  /** What it may carry. */
  readonly limit?: Kilograms;
}

export const SHARING_RULES = ["two carry", "three carry", "as computed"] as const;

/** How the checks of a lift are made. */
export interface CarryRules {
  readonly sharing?: (typeof SHARING_RULES)[number];
  readonly factor?: number;
}

export interface Hoist {
  readonly id: string;
  readonly label: string;
  /** Reach and what may hang there, reach rising. */
  readonly reach: readonly (readonly [Metres, Kilograms])[];
  /** What may hang on its hook, and the hook block, shackles and whatever else hangs there besides the load. */
  readonly hook?: Kilograms;
  readonly tackle?: Kilograms;
}

export interface Vehicle {
  readonly name: string;
  readonly note?: string;
  readonly origin?: string;
  /** What one step may take off by hand, and how far inside the polygon of its rests a centre must lie. */
  readonly limits: {
    readonly hand: Kilograms;
    readonly handIsDefault: boolean;
    readonly margin: Metres;
    readonly marginIsDefault: boolean;
  };
  /** Connections or tasks before anything else, in this order; refitted last, in the reverse order. */
  readonly first: readonly string[];
  readonly positions: readonly Position[];
  readonly parts: readonly Part[];
  readonly connections: readonly Connection[];
  readonly tasks: readonly Task[];
  readonly jobs: readonly Job[];
  readonly eyes: readonly Eye[];
  readonly hoists: readonly Hoist[];
  readonly legs?: readonly SlingLeg[];
  readonly hooks?: readonly LiftHook[];
  readonly beams?: readonly LiftBeam[];
  readonly obstacles?: readonly Obstacle[];
  readonly lifted?: CarryRules;
  /** People of the shop and what they may do; empty: any crew. Tools that the shop owns; empty: all. */
  readonly shop: {
    readonly people: readonly { readonly id: string; readonly label: string; readonly skills: readonly string[] }[];
    readonly tools: readonly string[];
  };
}

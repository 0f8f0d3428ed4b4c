// Owns the cautions: which hazards of a step the model shows, and the words that go before it. Every one defers to the maker's instructions, local
// rules and the competent person; that none is shown is no sign that there is no hazard.
//
// Signal words as in ANSI Z535.4: DANGER will, WARNING could cause death or serious injury, CAUTION could cause minor or moderate injury.

import type { Connection, Position, Task, Vehicle } from "../vehicle/index.ts";

export interface Caution {
  readonly id: string;
  readonly word: "DANGER" | "WARNING" | "CAUTION";
  readonly text: string;
}

/** One step as far as its hazards go. */
export interface Hazard {
  readonly vehicle: Vehicle;
  readonly phase: "out" | "work" | "back";
  readonly connection?: Connection;
  readonly task?: Task;
  readonly position?: Position;
  /** What the hoist of a lift is called. */
  readonly hoist?: string;
  /** It releases the last thing that carries a part too heavy for two hands. */
  readonly lastCarrier?: boolean;
  /** Kilograms of the heaviest part that it sets aside by hand. */
  readonly byHand?: number;
  /** It works on something that hangs or stands where a lift has put it. */
  readonly onLoad?: boolean;
}

/** Volts above which a vehicle's d.c. system is high voltage: DGUV Information 209-093 (over 60 V d.c.). */
const HIGH_VOLTAGE = 60;

/** Kilograms: common practice, the lower of the best-case guide weights of HSE INDG143 for lifting at knuckle height; from memory. */
const HEAVY_BY_HAND = 16;

const says = (pattern: RegExp, ...texts: readonly (string | undefined)[]): boolean =>
  texts.some((text) => text !== undefined && pattern.test(text));

const isHigh = (energy: string): boolean => {
  const volts = /^([\d.,]+)\s*(k?)V\b/i.exec(energy.trim());
  return volts !== null && Number(volts[1]?.replace(",", ".")) * (volts[2] === "" ? 1 : 1000) > HIGH_VOLTAGE;
};

const opens = (hazard: Hazard, fluid: RegExp): boolean =>
  hazard.phase !== "work" &&
  (says(fluid, hazard.connection?.holds?.fluid) || (hazard.task?.drains ?? []).some((one) => fluid.test(one)));

/** A position that a lift empties, or that is said to be beneath, is beneath. */
const isBeneath = ({ vehicle, position }: Hazard): boolean =>
  position !== undefined &&
  (says(/\b(under|underneath|beneath|below|pit)\b/i, position.label, position.id) ||
    vehicle.tasks.some(
      (task) => task.lifts.length > 0 && task.empties.includes(position.id) && (position.at?.[2] ?? 1) < 0.5,
    ));

const FUEL = /\b(fuel|petrol|gasoline|diesel|kerosene|lpg|cng)\b/i;
const CAB = /\btilt\b.*\bcab\b|\bcab\b.*\btilt/i;

interface Trigger extends Caution {
  readonly when: (hazard: Hazard) => boolean;
}

const isLift = ({ task }: Hazard) => (task?.lifts.length ?? 0) > 0;
/** A lift from below lowers: a table, a jack. */
const isFromBelow = ({ hoist }: Hazard) => says(/\b(table|jack)\b/i, hoist);
const isSling = ({ task }: Hazard) =>
  (task?.supports.length ?? 0) > 0 && says(/\b(sling|chain|hoist|crane)/i, task?.id, task?.label);

const TRIGGERS: readonly Trigger[] = [
  {
    id: "battery-off",
    word: "WARNING",
    text: "A spanner between terminal and frame makes an arc. Take the earth lead off first and fit it last, as the maker says; no rings, no flame, eye protection.",
    when: ({ vehicle, connection }) =>
      connection !== undefined && vehicle.first.includes(connection.id) && ["cable", "wire"].includes(connection.kind),
  },
  {
    id: "hv-isolate",
    word: "DANGER",
    text: "Touching live parts kills. Only a person trained and authorised for this system isolates it by the maker's procedure, keeps the disconnect, waits the time the maker gives and proves that there is no voltage before anyone works.",
    when: ({ connection, task }) => [...(connection?.isolates ?? []), ...(task?.isolates ?? [])].some(isHigh),
  },
  {
    id: "hv-orange",
    word: "DANGER",
    text: "High-voltage cable: touching it live kills. Do not cut, unclip or move it until the authorised person has proved the isolation.",
    when: ({ connection }) => connection?.live !== undefined && isHigh(connection.live),
  },
  {
    id: "fuel-open",
    word: "DANGER",
    text: "Fuel vapour travels low and lights from far off. Drain with closed recovery gear, well ventilated and never over a pit; nothing that sparks runs meanwhile, extinguisher at hand.",
    when: (hazard) => opens(hazard, FUEL),
  },
  {
    id: "injection",
    word: "WARNING",
    text: "A jet too fine to see goes through skin and glove. Relieve the pressure by the maker's method first, never feel for a leak by hand, and take any puncture to hospital at once.",
    when: (hazard) => opens(hazard, /\b(hydraulic|rail)\b/i),
  },
  {
    id: "air-release",
    word: "CAUTION",
    text: "A hose under air whips. Drain the tanks, read zero on every circuit, then open.",
    when: (hazard) => opens(hazard, /\bair\b/i),
  },
  {
    id: "spring-brake",
    word: "DANGER",
    text: "The spring inside can kill. Chock the wheels, cage it by the maker's method, do not stand behind it, and never undo its clamp band.",
    when: ({ connection }) => says(/spring.?brake/i, connection?.label, connection?.id),
  },
  {
    id: "spring-tension",
    word: "WARNING",
    text: "Stored spring force: let it down step by step with the maker's tool, and keep out of its line.",
    when: ({ connection }) =>
      connection?.kind === "spring" || says(/tensioner|clutch cover|gas strut/i, connection?.label),
  },
  {
    id: "hot-coolant",
    word: "WARNING",
    text: "Hot coolant under pressure scalds. Let it cool as the maker says, then open the cap slowly to let the pressure go.",
    when: (hazard) => opens(hazard, /\bcoolant\b/i) && hazard.phase === "out",
  },
  {
    id: "hot-parts",
    word: "CAUTION",
    text: "Still hot after stopping. Gloves, or wait.",
    when: ({ connection, task, phase }) =>
      phase === "out" &&
      (says(/exhaust|manifold|turbo/i, connection?.label, connection?.id) ||
        (task?.drains ?? []).some((one) => /\boil\b/i.test(one))),
  },
  {
    id: "refrigerant",
    word: "WARNING",
    text: "Refrigerant freezes skin and displaces air. Do not vent it: a trained person recovers the gas.",
    when: (hazard) => opens(hazard, /\brefrigerant\b/i),
  },
  {
    id: "airbag",
    word: "WARNING",
    text: "A gas generator can fire. Isolate the battery and wait the time the maker gives; carry it with the face outwards and set it down face up.",
    when: ({ connection }) => says(/air.?bag|pretensioner/i, connection?.label, connection?.id),
  },
  {
    id: "fluid",
    word: "CAUTION",
    text: "This fluid harms skin and eyes. Gloves and goggles, wipe spills at once, and read its data sheet.",
    when: ({ task }) => (task?.drains ?? []).some((one) => /\b(oil|brake fluid|steering fluid|acid|urea)\b/i.test(one)),
  },
  {
    id: "under-vehicle",
    word: "DANGER",
    text: "A vehicle that comes down crushes. Never under it on jacks alone: level hard ground, sound stands at the maker's points, the wheels that remain chocked.",
    when: isBeneath,
  },
  {
    id: "tilted-cab",
    word: "DANGER",
    text: "A raised cab or body can fall. Lock its prop before you lean in.",
    when: ({ task }) => task?.undo !== undefined && says(CAB, task.label),
  },
  {
    id: "last-mount",
    word: "DANGER",
    text: "This fixing is the last that holds the weight. Do not start it until the support has taken the load, or it stands on its rests, and a second person has looked.",
    when: ({ lastCarrier }) => lastCarrier === true,
  },
  {
    id: "manual",
    word: "CAUTION",
    text: "Heavy or awkward: two people, or lifting gear, as the local rules for lifting by hand ask.",
    when: ({ byHand }) => (byHand ?? 0) >= HEAVY_BY_HAND,
  },
  {
    id: "sling-fit",
    word: "WARNING",
    text: "A sling that slips or parts drops the load. Right sling, legible tag, no knot, no kink, edges padded, hook closed, fingers out before it tightens.",
    when: isSling,
  },
  {
    id: "eye-bolt",
    word: "WARNING",
    text: "An eye pulled sideways bends or breaks. Shoulder seated all round, loaded in the plane of the eye, and at an angle only as its maker's table allows.",
    when: (hazard) => isSling(hazard) && hazard.vehicle.eyes.some((eye) => hazard.task?.supports.includes(eye.on)),
  },
  {
    id: "suspended",
    word: "DANGER",
    text: "A falling or swinging load kills. Nobody under or beside its fall or swing, no hand or head between load and vehicle, and it is not carried over people.",
    when: isLift,
  },
  {
    id: "side-pull",
    word: "WARNING",
    text: "A side pull swings the load and strains the crane. Bring the hook over the centre of mass before lifting.",
    when: (hazard) => isLift(hazard) && !isFromBelow(hazard),
  },
  {
    id: "trial",
    word: "WARNING",
    text: "What still holds tears, or tips the load. Take up the slack slowly, lift a few centimetres, stop, hold; if the scale reads high, the load tilts or anything creaks, lower again.",
    when: (hazard) => isLift(hazard) && hazard.phase === "out" && !isFromBelow(hazard),
  },
  {
    id: "trial-down",
    word: "WARNING",
    text: "What still holds tears, or tips the load. Lower a few centimetres, stop, look all round; if anything pulls tight, the load tilts or creaks, raise it again.",
    when: (hazard) => isLift(hazard) && hazard.phase === "out" && isFromBelow(hazard),
  },
  {
    id: "fork-truck",
    word: "DANGER",
    text: "Raised forks come down without warning. Nobody stands or passes under them, loaded or empty; lift only with an attachment that the truck's maker allows.",
    when: (hazard) => isLift(hazard) && says(/\bfork/i, hazard.hoist),
  },
  {
    id: "work-on-load",
    word: "DANGER",
    text: "A hanging load can drop while it is worked on. Work on it only on a stand or block made for it.",
    when: ({ onLoad }) => onLoad === true,
  },
  {
    id: "start-up",
    word: "WARNING",
    text: "The machine can start or move. Tools and people clear, drive out of gear, wheels chocked, everyone told, before the earth lead goes on and the key turns.",
    when: ({ phase, vehicle, connection }) =>
      phase === "back" && connection !== undefined && vehicle.first.includes(connection.id),
  },
  {
    id: "exhaust-gas",
    word: "DANGER",
    text: "Exhaust gas kills in a closed shed. Extraction on, doors open.",
    when: ({ phase, task }) =>
      phase === "back" && task?.phase === "back" && says(/\b(engine|idle|run|start)\b/i, task.label),
  },
];

/** What stands at the head of every plan. */
export const GENERAL: readonly string[] = [
  "The maker's instructions, local rules and the competent person go before this plan. The list of cautions is not complete.",
  "WARNING  The machine can start or move while you work. Take the key or lock the isolator, tag it with your name, try to start it, then begin.",
];

/** The cautions that go before a step, in the order of the list. */
export const cautionsFor = (hazard: Hazard): readonly Caution[] =>
  TRIGGERS.filter((trigger) => trigger.when(hazard)).map(({ id, word, text }) => ({ id, word, text }));

// Owns what the rigging room says in English, and the figures in it as the command line writes them.

import { type Remark, type Saying, sayRemarks, type Writing } from "./remark.ts";

const plain = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** As the command line has them. */
export const PLAIN: Writing = {
  force: (newtons) => `${(newtons / 1000).toFixed(2)} kN`,
  angle: (degrees) => `${degrees.toFixed(1)}°`,
  length: (metres) => `${metres.toFixed(3)} m`,
  short: (metres) => `${(1000 * metres).toFixed(0)} mm`,
  mass: (kilograms) => `${plain(kilograms, 1)} kg`,
  number: plain,
};

/** As the command line says it. */
export const inEnglish = (...remarks: readonly Remark[]): string => sayRemarks(ENGLISH, remarks, PLAIN);

/** What a check or a fault is about where it is no name of a file's. */
const THINGS: Readonly<Record<string, string>> = {
  "load.mass": "mass of the load",
  "load.centre": "centre of the load",
  "load.within": "tolerance of the centre",
  "beam.mass": "mass of the beam",
  "beam.pin": "pin of the beam",
};
export const thingInEnglish = (thing: string): string => THINGS[thing] ?? thing;

const COUNT = { 2: "two", 3: "three" } as const;

export const ENGLISH: Saying = {
  pull: ({ force, over }, w) => `${w.force(force)} over ${over}`,
  "legs carry": ({ force, carrying, of, angle, computed }, w) =>
    `${w.force(force)}: ${COUNT[carrying]} of ${of} legs carry all, at ${w.angle(angle)} from the horizontal (computed ${w.force(computed)})`,
  "on the hook": ({ force }, w) => `${w.force(force)} on it`,
  "below the beam": ({ force }, w) => `${w.force(force)} below it`,
  "on the hoist": ({ force, tackle, beam }, w) =>
    `${w.force(force)} of load${beam === undefined ? ` and ${w.mass(tackle)} of tackle` : `, ${w.mass(tackle)} of tackle and ${w.mass(beam)} of beam`}, at rest`,
  "at rest": ({ force }, w) => `${w.force(force)} at rest`,
  pad: ({ force, most, over }, w) =>
    `computed ${w.force(force)} at rest; ${over === "the range" ? "at the most over the range and whatever the stiffness" : "all of the weight, for ties share it by a stiffness that is only estimated"}${most === undefined ? "" : ` ${w.force(most)}`}`,
  factor: ({ factor, source, assumed }, w) => ` × ${w.number(factor, 3)} (${source}${assumed ? "; a default" : ""})`,
  "from the axis": ({ angle }, w) => `, ${w.angle(angle)} from the bolt's axis`,
  against: ({ value, kilograms, share, limit }, w) =>
    ` = ${w.force(value)} against ${w.mass(kilograms)}${share === 1 ? "" : ` × ${w.number(share, 3)}`} = ${w.force(limit)}`,
  "against its rating": ({ kilograms, limit }, w) => ` against ${w.mass(kilograms)} = ${w.force(limit)}`,
  "none found above": ({ force }, w) => `; no case was found above ${w.force(force)}, and none is excluded`,
  "side pull": ({ angle }, w) => ` (${w.number(angle, 1)}° of side pull)`,
  reduced: ({ why }) => ` (${why})`,
  "no such angle": ({ rule }) => `: the rule "${rule}" allows no such angle`,
  "along the axis": () => ", of the part along the axis",
  lean: ({ angle, least, low }, w) =>
    `${w.angle(angle)} from the horizontal, at least ${w.number(least, 1)}°, below ${w.number(low, 1)}° worth a look`,
  "none found below": ({ angle }, w) => `; no case was found below ${w.angle(angle)}, and none is excluded`,
  "face unknown": () => "which way the ring faces is not given",
  "out of plane": ({ angle, most }, w) =>
    `the pull leaves the plane of the ring by ${w.angle(angle)}, at most ${w.number(most, 1)}°`,
  "may be slack": ({ over }) => `may hang slack over ${over}: the others then carry all`,
  higher: ({ margin }, w) =>
    margin > 0
      ? `the centre could be ${w.length(margin)} higher before the load tips`
      : Number.isFinite(margin)
        ? `the centre is ${w.length(-margin)} too high, and the load tips`
        : "the beam does not stay as it is slung, however low the centre is",
  inside: ({ margin, least }, w) =>
    `the centre, moved as unfavourably as it may be, lies ${w.short(margin)} inside what it stands on; at least ${w.short(least)}`,
  "nothing keeps it": () => "nothing it stands on keeps it",
  "mend limit": ({ from }) => `Give its limit from ${from} or the maker.`,
  "mend rule": () => "Say which rule its angle follows.",
  "mend gear": () => "Take stronger gear, a steeper leg, or a lighter load.",
  "mend lean": () => "Take longer legs, or a beam.",
  "mend axis": () => "Bring the leg nearer to the bolt's axis, or take an eye made for it.",
  "mend face": () => "Say which way the ring faces, and shim the bolt so that it lies along the leg.",
  "mend plane": () => "Turn the ring into the line of the leg with a shim under the shoulder.",
  "mend hoist": ({ factor }, w) =>
    `It is within the rating, and with ${w.number(factor, 3)} for lifting on top it would not be: lift slowly, or take another hoist.`,
  "mend slowly": ({ factor }, w) =>
    `It is within its limit, and with ${w.number(factor, 3)} for lifting on top it would not be: go slowly, or take a stronger one.`,
  "mend tipping": ({ isBeam }) =>
    isBeam
      ? "Hold the beam up at a point above those that the legs hang from."
      : "Sling it from higher up, or from eyes farther apart.",
  "mend pad": () => "Take a stronger one, set them so that each bears less, or take weight off first.",
  "mend table": () => "Take a stronger one, or a lighter load.",
  "mend stand": () => "Set the pads farther apart, or the load over their middle.",
  massless: ({ parts }) => `without a mass, counted as nothing: ${parts.join(", ")}`,
  placeless: ({ parts }) => `without a centre, counted at the centre of the others: ${parts.join(", ")}`,
  "centre within": ({ length }, w) =>
    `the centre may be ${w.short(length)} out each way: no part says how far (within)`,
  "eye table": ({ eye, kilograms, source }, w) => `eye ${eye}: ${w.number(kilograms, 0)} kg straight, ${source}`,
  "leg left off": ({ leg, eye, part }) =>
    `leg ${leg} does not lift here: its eye ${eye} is on ${part}, which does not go up`,
  "leg stiff": ({ leg }) => `leg ${leg}: it does not stretch, for nothing says what it is made of`,
  "leg stretch": ({ leg, source }) => `leg ${leg}: stretch of ${source}`,
  "leg tenth": ({ leg }) => `leg ${leg}: its stiffness is known to a tenth`,
  "leg table": ({ leg, kilograms, source }, w) => `leg ${leg}: ${w.mass(kilograms)}, ${source}`,
  "leg made": ({ leg, length }, w) => `leg ${leg}: its length may be out by ${w.short(length)}, a chain maker's text`,
  "straight up": ({ length }, w) => `the load goes straight up by ${w.number(length, 2)} m: the file gives no path`,
  chances: ({ seen, hidden, unknown, standing }, w) =>
    `before any reading: ${w.number(100 * seen, 1)} % for each connection of the cut, ${w.number(100 * hidden, 1)} % for a hidden one, ${w.number(100 * unknown, 1)} % for a mass nobody knows of, ${w.number(100 * standing, 1)} % that it still stands on something: estimates of this program`,
  "below the cell": ({ mass }, w) =>
    `parts and fluids below ${w.mass(mass)} are not asked about: the cell tells no less`,
  "stiffness by kind": () => "stiffness of a tie by its kind, good to a factor of three: estimates of this program",
  "taken off": ({ force, isBeam }, w) =>
    `${w.force(force)} of ${isBeam ? "tackle and beam" : "tackle"} taken off each reading`,
  tips: () => "the balance as it is slung does not hold",
  "tips somewhere": () => "with some of the figures that the tolerances allow it does not hang as it is slung",
  "many take-ups": ({ able, most }) => `${able} legs can be taken up; the search is for ${most} at the most`,
  "no take-up": () => "no leg can be taken up: give links or take-up of a leg",
  "last point": ({ point }) =>
    `no leg can be taken up, and ${point} is the only point left to hang the beam by: give it more`,
  "no reading": () => "there is no reading",
  "still on its feet": ({ rise, force, off }, w) =>
    `at ${w.short(rise)} of rise even the freed load still presses ${w.force(force)} on what it stands on${off === undefined ? "" : `, and is off it by ${w.short(off)}`}: nothing can be told yet; raise it farther, hold, and read again`,
  "more than on its feet": ({ rise, read, most }, w) =>
    `at ${w.short(rise)} of rise the freed load would show no more than ${w.force(most)}, and ${w.force(read)} is read: something may hold it, or the rise was not counted from where the legs came taut; lower it again and look`,
  "would not hang": () => "freed it would not hang as it is slung",
  "no load on the cell": ({ read, tackle }, w) =>
    `${w.force(read)} is no more than what hangs on the cell besides the load weighs, ${w.force(tackle)}`,
  "mend reading": () => "Read the cell with the load on it, tackle and all.",
  "left on": ({ part }) => `${part} left on`,
  "not drained": ({ fluid, mass }, w) => `${fluid} not drained, ${w.mass(mass)}`,
};

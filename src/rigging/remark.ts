// Owns what a check or an answer says beside its figures: by a name and values, so that every reader has it in his own language and units; and the English of it.

/** Each name with its values: newtons, degrees, metres, kilograms. */
export interface Said {
  /** What pulls or presses. */
  readonly pull: { readonly force: number; readonly over: "nominal figures" | "the range" };
  readonly "legs carry": {
    readonly force: number;
    readonly carrying: 2 | 3;
    readonly of: number;
    readonly angle: number;
    readonly computed: number;
  };
  readonly "on the hook": { readonly force: number };
  readonly "below the beam": { readonly force: number };
  readonly "on the hoist": { readonly force: number; readonly tackle: number; readonly beam?: number | undefined };
  readonly "at rest": { readonly force: number };
  readonly pad: {
    readonly force: number;
    readonly most?: number | undefined;
    readonly over: "the range" | "all of the weight";
  };
  /** What follows it. */
  readonly factor: { readonly factor: number; readonly source: string; readonly assumed: boolean };
  readonly "from the axis": { readonly angle: number };
  readonly against: {
    readonly value: number;
    readonly kilograms: number;
    readonly share: number;
    readonly limit: number;
  };
  readonly "against its rating": { readonly kilograms: number; readonly limit: number };
  readonly "none found above": { readonly force: number };
  readonly "side pull": { readonly angle: number };
  readonly reduced: { readonly why: string };
  readonly "no such angle": { readonly rule: string };
  readonly "along the axis": object;
  /** Whole by themselves. */
  readonly lean: { readonly angle: number; readonly least: number; readonly low: number };
  readonly "none found below": { readonly angle: number };
  readonly "face unknown": object;
  readonly "out of plane": { readonly angle: number; readonly most: number };
  readonly "may be slack": { readonly over: "nominal figures" | "the range" };
  readonly higher: { readonly margin: number };
  readonly inside: { readonly margin: number; readonly least: number };
  readonly "nothing keeps it": object;
  /** What would mend it. */
  readonly "mend limit": { readonly from: "the tag" | "the marking" };
  readonly "mend rule": object;
  readonly "mend gear": object;
  readonly "mend lean": object;
  readonly "mend axis": object;
  readonly "mend face": object;
  readonly "mend plane": object;
  readonly "mend hoist": { readonly factor: number };
  readonly "mend slowly": { readonly factor: number };
  readonly "mend tipping": { readonly isBeam: boolean };
  readonly "mend pad": object;
  readonly "mend table": object;
  readonly "mend stand": object;
  /** What is assumed where a file is silent. */
  readonly massless: { readonly parts: readonly string[] };
  readonly placeless: { readonly parts: readonly string[] };
  readonly "centre within": { readonly length: number };
  readonly "eye table": { readonly eye: string; readonly kilograms: number; readonly source: string };
  readonly "leg stiff": { readonly leg: string };
  readonly "leg stretch": { readonly leg: string; readonly source: string };
  readonly "leg tenth": { readonly leg: string };
  readonly "leg table": { readonly leg: string; readonly kilograms: number; readonly source: string };
  readonly "leg made": { readonly leg: string; readonly length: number };
  readonly "straight up": { readonly length: number };
}

export type Remark = { readonly [K in keyof Said]: { readonly is: K } & Said[K] }[keyof Said];

/** How a reader has figures written. */
export interface Writing {
  readonly force: (newtons: number) => string;
  readonly angle: (degrees: number) => string;
  readonly length: (metres: number) => string;
  readonly short: (metres: number) => string;
  readonly mass: (kilograms: number) => string;
  readonly number: (value: number, digits: number) => string;
}

/** A language. */
export type Saying = { readonly [K in keyof Said]: (values: Said[K], write: Writing) => string };

const one = <K extends keyof Said>(saying: Saying, remark: { readonly is: K } & Said[K], write: Writing): string =>
  saying[remark.is](remark, write);

/** Remarks in a row, as one sentence without its full stop. */
export const sayRemarks = (saying: Saying, remarks: readonly Remark[], write: Writing): string =>
  remarks.map((remark) => one(saying, remark, write)).join("");

const plain = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** As the command line has them. */
const PLAIN: Writing = {
  force: (newtons) => `${(newtons / 1000).toFixed(2)} kN`,
  angle: (degrees) => `${degrees.toFixed(1)}°`,
  length: (metres) => `${metres.toFixed(3)} m`,
  short: (metres) => `${(1000 * metres).toFixed(0)} mm`,
  mass: (kilograms) => `${plain(kilograms, 1)} kg`,
  number: plain,
};

/** As the command line says it. */
export const inEnglish = (...remarks: readonly Remark[]): string => sayRemarks(ENGLISH, remarks, PLAIN);

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
  "leg stiff": ({ leg }) => `leg ${leg}: it does not stretch, for nothing says what it is made of`,
  "leg stretch": ({ leg, source }) => `leg ${leg}: stretch of ${source}`,
  "leg tenth": ({ leg }) => `leg ${leg}: its stiffness is known to a tenth`,
  "leg table": ({ leg, kilograms, source }, w) => `leg ${leg}: ${w.mass(kilograms)}, ${source}`,
  "leg made": ({ leg, length }, w) => `leg ${leg}: its length may be out by ${w.short(length)}, a chain maker's text`,
  "straight up": ({ length }, w) => `the load goes straight up by ${w.number(length, 2)} m: the file gives no path`,
};

// Owns what a check or an answer says beside its figures: by a name and values, so that every reader has it in his own language and units.

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
  readonly "leg left off": { readonly leg: string; readonly eye: string; readonly part: string };
  readonly "leg stiff": { readonly leg: string };
  readonly "leg stretch": { readonly leg: string; readonly source: string };
  readonly "leg tenth": { readonly leg: string };
  readonly "leg table": { readonly leg: string; readonly kilograms: number; readonly source: string };
  readonly "leg made": { readonly leg: string; readonly length: number };
  readonly "straight up": { readonly length: number };
  readonly chances: {
    readonly seen: number;
    readonly hidden: number;
    readonly unknown: number;
    readonly standing: number;
  };
  readonly "below the cell": { readonly mass: number };
  readonly "stiffness by kind": object;
  readonly "taken off": { readonly force: number; readonly isBeam: boolean };
  /** Why there are no ranges. */
  readonly tips: object;
  readonly "tips somewhere": object;
  /** Why lengths are not searched. */
  readonly "many take-ups": { readonly able: number; readonly most: number };
  readonly "no take-up": object;
  readonly "last point": { readonly point: string };
  /** Why a trial lift is not weighed. */
  readonly "no reading": object;
  readonly "would not hang": object;
  readonly "still on its feet": { readonly rise: number; readonly force: number; readonly off?: number | undefined };
  readonly "more than on its feet": { readonly rise: number; readonly read: number; readonly most: number };
  readonly "no load on the cell": { readonly read: number; readonly tackle: number };
  readonly "mend reading": object;
  /** What may have come along with a load: a part by its label, a fluid by its name. */
  readonly "left on": { readonly part: string };
  readonly "not drained": { readonly fluid: string; readonly mass: number };
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

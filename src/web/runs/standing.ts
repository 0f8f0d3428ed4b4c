// Owns how a run's joints stand on the tie chart: what its entries say, in the chart's own words.

export interface RunStanding {
  readonly released: ReadonlySet<string>;
  readonly verified: ReadonlySet<string>;
  /** An open finding is about them. */
  readonly faulty: ReadonlySet<string>;
}

/** Undone: from the first turn of the wrench until it is made again. What is only put in place holds nothing yet. */
const APART = new Set(["released", "loose", "in place"]);

/** How a run stands, by the server's word or by a device's own book. */
export interface RunStood {
  readonly joints: readonly { readonly id: string; readonly state: string }[];
  readonly findings: readonly { readonly about?: string | undefined; readonly state: string }[];
}

export const standingOf = ({ joints, findings }: RunStood): RunStanding => ({
  released: new Set(joints.filter(({ state }) => APART.has(state)).map(({ id }) => id)),
  verified: new Set(joints.filter(({ state }) => state === "loose").map(({ id }) => id)),
  faulty: new Set(findings.flatMap(({ about, state }) => (about === undefined || state !== "open" ? [] : [about]))),
});

// Owns how far the preload strays when many fasteners are tightened alike, by the method of tightening.

/** The methods, as a question names them. */
export const METHODS = [
  "torque wrench",
  "torque wrench, set by trial",
  "torque wrench, lubricated",
  "torque and angle",
  "power driver",
  "stretch measured",
  "by feel",
] as const;
export type Method = (typeof METHODS)[number];

/** Half the width of the scatter as a share of the preload, with its source. */
export interface Scatter {
  readonly share: number;
  readonly source: string;
}

const SCATTER: Readonly<Record<Method, Scatter>> = {
  "torque wrench": { share: 0.28, source: "VDI 2230:1986, friction estimated: ±23 to 28 %" },
  "torque wrench, set by trial": { share: 0.23, source: "VDI 2230:1986, torque set by trial: ±17 to 23 %" },
  "torque wrench, lubricated": { share: 0.25, source: "NASA-STD-5020B, table 3: ±25 % lubricated" },
  "torque and angle": { share: 0.12, source: "VDI 2230:1986, angle or yield control: ±5 to 12 %" },
  "power driver": { share: 0.43, source: "VDI 2230:1986, precision power driver: ±26 to 43 %" },
  "stretch measured": { share: 0.1, source: "NASA-STD-5020B, table 3: ±10 % by measured stretch" },
  "by feel": { share: 0.35, source: "taken as NASA-STD-5020B's ±35 % unlubricated; no source gives less" },
};

/** Scatter of a method; the wider end where the source gives a range. */
export const scatterOf = (method: Method): Scatter => SCATTER[method];

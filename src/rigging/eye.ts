// Owns what the angle of the pull leaves of a lifting eye's limit. Sources disagree by factors of two and three, so each rule has a name and the file says
// which one it follows (docs/rigging.md, "Eyes").

import type { EyeRule, Rating } from "./problem.ts";

/** What is left of the vertical limit up to an angle from the bolt's axis, degrees; between two table angles the worse one holds. */
interface Band {
  readonly upTo: number;
  readonly share: number;
}

interface Rule {
  readonly bands: readonly Band[];
  /** Whether the share is of the pull along the leg, or of the weight the bolt takes straight down. */
  readonly of: "pull" | "weight";
  /** Whether it holds only for a pull in the plane of the ring. */
  readonly inPlane: boolean;
  readonly source: string;
}

const RULES: Readonly<Record<EyeRule, Rule>> = {
  "any direction": {
    bands: [{ upTo: 90, share: 1 }],
    of: "pull",
    inPlane: false,
    source: "the maker's rating for every direction",
  },
  "axial only": {
    bands: [{ upTo: 5, share: 1 }],
    of: "pull",
    inPlane: false,
    source: "eye without a shoulder: axial pull only (trade pages on eye bolts; ASME B30.26 guides)",
  },
  "us shoulder pattern": {
    bands: [
      { upTo: 5, share: 1 },
      { upTo: 15, share: 0.8 },
      { upTo: 30, share: 0.65 },
      { upTo: 45, share: 0.3 },
      { upTo: 90, share: 0.25 },
    ],
    of: "pull",
    inPlane: true,
    source: "US forged shoulder pattern, two trade tables",
  },
  "us metric machinery": {
    bands: [
      { upTo: 5, share: 1 },
      { upTo: 45, share: 0.25 },
    ],
    of: "pull",
    inPlane: true,
    source: "US metric machinery pattern, trade table with factor 5",
  },
  "din 580": {
    // Least ratio of the two columns of the table, M10: 170 over 240 … M8 100 over 140; per bolt and straight down, as it is read here.
    bands: [
      { upTo: 5, share: 1 },
      { upTo: 45, share: 0.7 },
    ],
    of: "weight",
    inPlane: true,
    source: "DIN 580 annex A; its 45° column read as weight per bolt",
  },
  "bs 4278": {
    bands: [
      { upTo: 5, share: 1 },
      { upTo: 15, share: 0.63 },
      { upTo: 30, share: 0.4 },
      { upTo: 45, share: 0.25 },
    ],
    of: "pull",
    inPlane: true,
    source: "BS 4278 collar bolts in pairs, from memory; the share taken of the pull, the stricter reading",
  },
  "within 20 degrees": {
    bands: [{ upTo: 20, share: 1 }],
    of: "pull",
    inPlane: false,
    source: "slings within 20° of the bolt's axis, WAC 296-304-07011",
  },
};

/** Degrees out of the ring's plane that still count as in it, as a leg within 5° of vertical counts as vertical (29 CFR 1910.184). */
export const OUT_OF_PLANE = 5;
const ROUNDING = 1e-6;

export interface EyeShare {
  /** Of the vertical limit; undefined: the rule allows no such angle. */
  readonly share?: number;
  readonly of: "pull" | "weight";
  readonly inPlane: boolean;
  readonly source: string;
}

/** What a rule leaves at an angle from the bolt's axis, degrees. */
export function eyeShare(rule: EyeRule, angle: number): EyeShare {
  const { bands, of, inPlane, source } = RULES[rule];
  const band = bands.find(({ upTo }) => angle <= upTo + ROUNDING);
  return { of, inPlane, source, ...(band === undefined ? {} : { share: band.share }) };
}

/** Vertical limits by thread: DIN 580 annex A, kg per bolt, factor 6; US metric machinery pattern, lb, factor 5. */
const VERTICAL: Readonly<Partial<Record<EyeRule, Readonly<Record<string, number>>>>> = {
  "din 580": { M8: 140, M10: 230, M12: 340, M16: 700, M20: 1200, M24: 1800 },
  "us metric machinery": { M10: 1628 * 0.45359237, M12: 2266 * 0.45359237, M16: 3520 * 0.45359237 },
};

/** The limit of an eye of a thread by the table of its rule, marked as assumed; undefined where the rule has no table. */
export function eyeRating(rule: EyeRule, thread: string): Rating | undefined {
  const kilograms = VERTICAL[rule]?.[thread];
  return kilograms === undefined ? undefined : { kilograms, source: RULES[rule].source, assumed: true };
}

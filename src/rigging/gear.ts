// Owns the built-in tables of sling gear: what a size bears and how it stretches, defaults all of them, marked as such.

import type { WEB_COLOURS } from "../vehicle/index.ts";
import type { Rating } from "./problem.ts";

const TONNE = 1000;

/** EN 818-4 grade 8 and the like for grade 10, one leg, tonnes by nominal size in mm; two published load tables. */
const CHAIN: Readonly<Record<string, Readonly<Record<number, number>>>> = {
  "8": { 6: 1.12, 7: 1.5, 8: 2.0, 10: 3.15, 13: 5.3, 16: 8.0 },
  "10": { 6: 1.4, 7: 1.9, 8: 2.5, 10: 4.0, 13: 6.7, 16: 10 },
};

/** EN 13414-1 table 4, ferrule-secured eyes, steel core, one leg, tonnes by mm; the ferrule's 0.9 is in it. */
const ROPE: Readonly<Record<number, number>> = { 8: 0.75, 10: 1.15, 12: 1.7, 16: 3.0 };

/** EN 1492 colours, one leg straight, tonnes. */
const WEB: Readonly<Record<(typeof WEB_COLOURS)[number], number>> = {
  violet: 1,
  green: 2,
  yellow: 3,
  grey: 4,
  red: 5,
  brown: 6,
  blue: 8,
  orange: 10,
};

/** What a leg is made of, as its tag tells it. Sizes in mm. */
export type LegMaterial =
  | { readonly what: "chain"; readonly size: number; readonly grade: "8" | "10" }
  | { readonly what: "wire rope"; readonly size: number }
  | { readonly what: "web"; readonly colour: (typeof WEB_COLOURS)[number] };

/** The limit of one leg straight, by the tables; undefined for a size that is not in them. */
export function legRating(material: LegMaterial): Rating | undefined {
  const [tonnes, source] =
    material.what === "chain"
      ? [
          CHAIN[material.grade]?.[material.size],
          material.grade === "8" ? "EN 818-4 load table" : "grade 10 load table, after EN 818-4",
        ]
      : material.what === "wire rope"
        ? [ROPE[material.size], "EN 13414-1 table 4"]
        : [WEB[material.colour], "EN 1492 colour"];
  return tonnes === undefined ? undefined : { kilograms: tonnes * TONNE, source, assumed: true };
}

export interface Stretch {
  /** EA, newtons. */
  readonly stiffness: number;
  readonly source: string;
}

/** How stiff a leg is when its maker says nothing; all three from memory of practice, good to a factor of two. */
export function legStretch(material: LegMaterial): Stretch | undefined {
  switch (material.what) {
    case "chain":
      return {
        stiffness: 8.54e10 * (material.size / 1000) ** 2,
        source: "studless chain, EA = 8.54e10·d² N, mooring practice, from memory",
      };
    case "wire rope":
      // Metal of a 6×36 rope with steel core: 0.46 d².
      return {
        stiffness: 100e9 * 0.46 * (material.size / 1000) ** 2,
        source: "6×36 rope, 100 GPa on 0.46·d² of metal, from memory",
      };
    default: {
      const rating = legRating(material);
      return (
        rating && {
          stiffness: (rating.kilograms * 9.80665) / 0.03,
          source: "polyester web, 3 % at its limit, from memory",
        }
      );
    }
  }
}

/** Metres by which one link shortens a chain: its pitch, three times its size (EN 818-2 dimensions, from memory). */
export const linkPitch = (size: number): number => (3 * size) / 1000;

/** ± metres by which a made-up leg may be out: legs of one sling lie within 10 mm up to 2 m, 5 mm a metre beyond (a chain maker's text), halved here. */
export const madeWithin = (length: number): number => (length <= 2 ? 0.01 : 0.01 + 0.005 * (length - 2)) / 2;

// Owns the labels of a pack: for each connection that comes apart a tag for every half, and for each bag one with its count; and how large a label must be.

import type { KitDocument, Plan } from "../plan/index.ts";
import { HALVES, type Tags, tagPath, writeCode } from "../tag/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Words } from "./said.ts";
import type { Face, Roll } from "./sheet.ts";

export interface Tagging {
  readonly tags: Tags;
  /** The web app's address, without a slash at its end; empty where it is not known: the app's own reader finds the connection all the same. */
  readonly origin: string;
  readonly run?: string;
}

/** The address in a tag's QR code: of the connection, the same on both halves and on its bag, so that whichever is at hand opens it. */
const addressOf = ({ tags, origin, run }: Tagging, connection: string): string => {
  const code = tags.codeOf(connection) ?? "";
  return origin + tagPath({ code, ...(run === undefined ? {} : { run }) });
};

export const saidCode = ({ tags }: Tagging, connection: string): string => writeCode(tags.codeOf(connection) ?? "");

/** Connections that the plan takes apart, in the order in which they come off. */
export const released = (plan: Plan): readonly string[] => [
  ...new Set(
    [...plan.out, ...plan.work].flatMap(({ steps }) =>
      steps.flatMap(({ action, id }) => (action === "release" ? [id] : [])),
    ),
  ),
];

export function tagFaces(vehicle: Vehicle, plan: Plan, tagging: Tagging, words: Words): readonly Face[] {
  const connections = new Map(vehicle.connections.map((one) => [one.id, one]));
  const positions = new Map(
    [...plan.out, ...plan.work].flatMap(({ label, position, steps }) =>
      steps.flatMap(({ id }) => (position === undefined ? [] : [[id, label] as const])),
    ),
  );
  return released(plan).flatMap((id) => {
    const connection = connections.get(id);
    if (connection === undefined) return [];
    const name = (part: string): string => plan.labels[part] ?? part;
    const sides = connection.joins.slice(0, HALVES.length);
    return sides.map((part, n): Face => {
      const half = HALVES[n] ?? "";
      const mates = sides.flatMap((other, m) => (m === n ? [] : [words.tags.at(HALVES[m] ?? "", name(other))]));
      const where = positions.get(id);
      return {
        code: saidCode(tagging, id),
        half,
        name: connection.label,
        lines: [
          words.tags.thisHalf(name(part)),
          words.tags.mates(mates.join(", ")),
          ...(where === undefined ? [] : [words.tags.position(where)]),
        ],
        address: addressOf(tagging, id),
      };
    });
  });
}

/** A bag each, with what is counted into it. */
export const bagFaces = (kit: KitDocument, tagging: Tagging, words: Words): readonly Face[] =>
  kit.bags
    .filter(({ again }) => again > 0)
    .map(({ connection, label, hardware, again, out, in: back }) => ({
      code: saidCode(tagging, connection),
      name: label,
      lines: [
        words.tags.bag(
          again,
          hardware.flatMap(({ item, count, reuse }) => (reuse ? [`${count} × ${item}`] : [])).join(", "),
        ),
        words.tags.counted(out, back),
      ],
      address: addressOf(tagging, connection),
    }));

/** Millimetres of one module of a QR code on a sheet: three and a half dots at 150 dpi, so that a fold and a smear leave it readable; a small label may have it smaller, and no smaller than three. */
const MODULE = 0.6;
const LEAST_MODULE = 0.5;
/** And on a label with room to spare: what is read from an arm's length. The name beside it keeps so many millimetres. */
const MOST_MODULE = 1;
const NAME_WIDE = 50;
/** The quiet zone about a code, in modules (ISO/IEC 18004). */
export const QUIET = 4;
/** Millimetres between the edge of a label and what is printed. */
export const EDGE = 1.5;
/** Millimetres that the code and the name need beside the QR code, or beneath it. */
const BESIDE = { wide: 30, high: 13 };

/** Whether a label holds a QR code so many millimetres wide, and what must be read beside it or beneath it. */
const holds = ({ wide, high }: Roll, side: number): boolean =>
  (wide >= side + BESIDE.wide && high >= side) ||
  (wide >= Math.max(side, BESIDE.wide + 2 * EDGE) && high >= side + BESIDE.high);

const sideOf = (modules: number, module: number): number => (modules + 2 * QUIET) * module + 2 * EDGE;

/** Why a label of this size cannot hold a code of so many modules a side: the least that can; undefined where it can. */
export function rollFault(roll: Roll, modules: number): { readonly wide: number; readonly high: number } | undefined {
  const side = sideOf(modules, LEAST_MODULE);
  return holds(roll, side) ? undefined : { wide: Math.ceil(side + BESIDE.wide), high: Math.ceil(side) };
}

/** Millimetres of one module, in hundredths: larger than on a sheet where the label has room beside the name, as on a sheet where it holds that, else as large as it can be. */
export function moduleOf(roll: Roll | undefined, modules: number): number {
  if (roll === undefined) return MODULE;
  for (let hundredths = 100 * MOST_MODULE; hundredths > 100 * MODULE; hundredths -= 1) {
    const side = sideOf(modules, hundredths / 100);
    if (roll.high >= side && roll.wide >= side + NAME_WIDE) return hundredths / 100;
  }
  for (let hundredths = 100 * MODULE; hundredths > 100 * LEAST_MODULE; hundredths -= 1)
    if (holds(roll, sideOf(modules, hundredths / 100))) return hundredths / 100;
  return LEAST_MODULE;
}

// Owns the kit list by shelf, the fluids, what is put in for the job, the count of every bag, and the transfer list of a swap.

import type { KitDocument } from "../plan/index.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";
import type { Block, Cell, Column, Sheet } from "./sheet.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";

type Tie = KitDocument["transfers"][number]["parts"][number]["ties"][number];

const share = (title: string, part = 1): Column => ({ title, width: { share: part } });
const fixed = (title: string, mm: number, right = false): Column => ({
  title,
  width: { mm },
  ...(right ? { right } : {}),
});

/** Places that are named where many are meant: a cell is never higher than a page. */
const FEW = 4;

/** A heading with its table; nothing where there are no rows. */
const part = (text: string, columns: readonly Column[], rows: readonly (readonly Cell[])[]): readonly Block[] =>
  rows.length === 0
    ? []
    : [
        { kind: "heading", level: 2, text },
        { kind: "table", columns, rows },
      ];

export function kitSheet(kit: KitDocument, tagging: Tagging, words: Words, figures: Figures): Sheet {
  const say = words.kit;
  const steps = (list: readonly number[]): string => list.join(", ");
  const shelves = kit.picking.some(({ shelf }) => shelf !== undefined);
  return {
    kind: "kit",
    title: say.title,
    blocks: [
      ...part(
        shelves ? say.walk : say.walkByKind,
        [
          ...(shelves ? [fixed(say.shelf, 22)] : []),
          fixed(say.much, 20, true),
          share(say.item, 3),
          share(say.kind),
          fixed(say.first, 17, true),
          ...(shelves ? [fixed(say.there, 17, true)] : []),
          fixed(say.laid, 14),
        ],
        kit.picking.map(({ shelf, item, kind, count, unit, first, stock }) => [
          ...(shelves ? [shelf ?? "–"] : []),
          unit === undefined ? `${count} ×` : figures.amount(count, unit),
          item,
          say.kinds[kind],
          String(first),
          ...(shelves
            ? [
                stock === undefined
                  ? ""
                  : unit === undefined && stock < count
                    ? { strong: `${stock} !` }
                    : String(stock),
              ]
            : []),
          { box: "tick" },
        ]),
      ),
      ...part(
        say.fluids,
        [
          share(say.fluid, 2),
          share(say.expected, 2),
          fixed(say.out, 26),
          fixed(say.in, 26),
          fixed(words.torque.initials, 18),
        ],
        kit.fluids.map(({ fluid, litres, unstated }) => [
          fluid,
          [
            ...(litres > 0 ? [`${figures.places(litres, 3)} L`] : []),
            ...(unstated.length > 0 ? [say.unstated(unstated.slice(0, FEW), Math.max(0, unstated.length - FEW))] : []),
          ].join("; "),
          { box: "write" },
          { box: "write" },
          { box: "write" },
        ]),
      ),
      ...part(
        say.temporary,
        [
          fixed(say.much, 16, true),
          share(say.item, 3),
          fixed(say.inAt, 26, true),
          fixed(say.countIn, 14),
          fixed(say.outAt, 30, true),
          fixed(say.countOut, 14),
        ],
        kit.inAndOut.map(({ item, count, in: into, out }) => [
          `${count} ×`,
          item,
          String(into),
          { box: "tick" },
          out === undefined ? { strong: say.never } : String(out),
          { box: "tick" },
        ]),
      ),
      ...part(
        say.left,
        [
          fixed(words.chart.code, 20),
          share(say.bag, 2),
          share(say.item, 2),
          fixed(say.much, 16, true),
          fixed(say.step, 17, true),
          fixed(say.countOut, 17),
          fixed(say.countIn, 17),
        ],
        kit.bags.map(({ connection, label, hardware, out, in: back, again, scrap }) => [
          saidCode(tagging, connection),
          label,
          hardware.map(({ item, count }) => `${count} × ${item}`).join(", "),
          `${again}${scrap > 0 ? `; ${say.scrap(scrap)}` : ""}`,
          back === undefined ? String(out) : `${out} / ${back}`,
          { box: "write" },
          { box: "write" },
        ]),
      ),
      ...(kit.bags.length === 0 ? [] : [{ kind: "text", small: true, text: say.leftHow } as const]),
      ...part(
        say.uneven,
        [
          share(words.run.what, 2),
          fixed(say.much, 16, true),
          share(say.item, 2),
          share(words.run.place, 2),
          fixed(say.step, 14, true),
        ],
        kit.uneven.map(({ what, item, count, at, step }) => [
          { strong: say.unevenWords[what] },
          String(count),
          item,
          at,
          String(step),
        ]),
      ),
      ...part(
        say.usuallyNew,
        [fixed(say.much, 16, true), share(say.item, 2), share(words.run.place, 2), fixed(say.step, 14, true)],
        kit.usuallyNew.map(({ item, count, at, step }) => [`${count} ×`, item, at, String(step)]),
      ),
      ...kit.transfers.flatMap(({ parts }) =>
        part(
          say.transfer,
          [share(say.item, 1.6), share(say.by, 4), share(say.fresh), fixed(say.over, 24)],
          parts.map(({ label, ties, fresh }) => [
            label,
            ties.map((tie) => heldBy(tie, tagging, words, figures)).join("; "),
            fresh.map(({ item, count }) => `${count} × ${item}`).join(", "),
            { box: "tick" },
          ]),
        ),
      ),
      ...(kit.newParts.length === 0 ? [] : newParts(kit, words, steps)),
    ],
  };
}

/** A connection that goes over, with what must be as it was. */
const heldBy = (
  { label, connection, torque, mark, keep, check }: Tie,
  tagging: Tagging,
  { cards: { names } }: Words,
  figures: Figures,
): string =>
  [
    `${label} (${saidCode(tagging, connection)})`,
    ...(torque === undefined ? [] : [`${figures.places(torque, 3)} N·m`]),
    ...(mark === undefined ? [] : [`${names.toMark}: ${mark}`]),
    ...(keep === undefined ? [] : [`${names.keep}: ${keep}`]),
    ...(check === undefined ? [] : [`${names.check}: ${check}`]),
  ].join(", ");

const newParts = (
  kit: KitDocument,
  { kit: say }: Words,
  steps: (list: readonly number[]) => string,
): readonly Block[] =>
  part(
    say.newParts,
    [fixed(say.much, 16, true), share(say.item, 3), share(say.step, 1), fixed(say.laid, 14)],
    kit.newParts.map(({ item, count, steps: at }) => [`${count} ×`, item, steps(at), { box: "tick" }]),
  );

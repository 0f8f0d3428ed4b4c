// Owns the sentences in which a step tells its fastening: torque, stages, order, holes, threads, and what is counted into which bag.

import { newtonMetres, writeLimits } from "../quantity/index.ts";
import type { Consumed } from "../vehicle/index.ts";
import type { PlanStep } from "./plan.ts";

const three = (value: number): string => String(Number(value.toPrecision(3)));
const said = (value: number): string => `${three(value)} N·m`;

const listed = (items: PlanStep["hardware"]): string => items.map(({ item, count }) => `${count} × ${item}`).join(", ");

const SMALL = { volume: ["mL", "L"], mass: ["g", "kg"], length: ["mm", "m"] } as const;

/** "anti-seize paste 5 g": small amounts in the unit that they are measured out in. */
export function sayConsumed({ item, amount }: Consumed): string {
  if (amount === undefined) return item;
  const [small, large] = SMALL[amount.dimension];
  return amount.value < 0.1
    ? `${item} ${three(amount.value * 1000)} ${small}`
    : `${item} ${three(amount.value)} ${large}`;
}

/** The fasteners of a step with their count: what goes into the bag must come out of it. */
export function sayCount({ hardware, id, action, scrap = 0 }: PlanStep): string | undefined {
  if (hardware.length === 0) return undefined;
  const again = hardware.reduce((sum, { count }) => sum + count, 0) - scrap;
  const bag = again === 0 ? "" : action === "refit" ? `; ${again} from bag ${id}` : `; ${again} into bag ${id}`;
  const rest = scrap === 0 ? "" : action === "refit" ? `, ${scrap} new` : `, ${scrap} to scrap`;
  return `${listed(hardware)}${bag}${rest}`;
}

/** Lines of a step about how its fasteners are tightened: a name and what stands behind it. */
export function sayTightening({
  torque,
  torqueLimits,
  pattern,
  tightening,
}: PlanStep): readonly (readonly [string, string])[] {
  const allowed =
    torqueLimits === undefined
      ? ""
      : ` (${writeLimits(newtonMetres(torqueLimits.low), newtonMetres(torqueLimits.high), "torque")})`;
  if (tightening === undefined)
    return torque === undefined
      ? []
      : [["torque", `${three(torque)} N·m${allowed}${pattern === undefined ? "" : `, ${pattern}`}`]];
  const {
    torque: full,
    seat,
    proposal,
    by,
    fasteners,
    stages,
    turn,
    round,
    order,
    holes,
    otherThreads,
    assumed,
  } = tightening;
  const each = fasteners > 1 ? ` each, ${fasteners} fasteners` : "";
  const words = pattern === undefined ? "" : `, ${pattern}`;
  const turned = turn === undefined ? "" : `, then ${three(turn)}° on`;
  const running = seat === undefined ? "" : ` (${three(seat)} to seat it, the rest is its running torque)`;
  const given = `${said(full)}${allowed}${turned}${each}${words}${running}`;
  const staged = stages.length > 1 || round;
  return [
    [
      "torque",
      proposal
        ? `NOT IN THE FILE. Proposed: ${given}, ${by}. Ask the maker's book: no gate takes a proposal for a torque`
        : by === undefined
          ? given
          : `${given}, reckoned ${by}`,
    ],
    ...(staged
      ? [
          [
            "stages",
            [
              "by hand until all sit",
              `${stages.map(three).join(", ")} N·m`,
              ...(turn === undefined ? [] : [`${three(turn)}° on`]),
              ...(round ? [`round at ${said(stages.at(-1) ?? full)} until nothing turns`] : []),
            ].join("; "),
          ] as const,
        ]
      : []),
    ...(order === undefined
      ? []
      : [["order", `${order.join("-")}${assumed.length === 0 ? "" : ` (${assumed.join("; ")})`}`] as const]),
    ...(holes === undefined
      ? []
      : [["holes", holes.map(({ item, at }) => `${item} at ${at.join(", ")}`).join("; ")] as const]),
    ...(otherThreads === undefined
      ? []
      : [
          [
            "threads",
            `${otherThreads.threads}, and the torque is meant for ${otherThreads.meant}: ${said(otherThreads.torque)} gives the same preload, ${three(Math.abs(full - otherThreads.torque))} N·m ${otherThreads.torque < full ? "less" : "more"}, if the maker agrees`,
          ] as const,
        ]),
  ];
}

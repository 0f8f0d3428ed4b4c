// Owns the entries of torque, pattern, kit and leftover in the list of commands.

import type { Flag, Operand } from "./call.ts";
import type { Command } from "./command.ts";

const FILE: Operand = { name: "FILE", text: "the vehicle file (*.vehicle.yaml)" };

const TORQUE: readonly Flag[] = [
  { name: "joint", value: "ID", many: true, text: "of a file: only this connection" },
  { name: "torque", value: "TORQUE", text: "the torque that is given: 48Nm, 35lbf·ft" },
  { name: "preload", value: "FORCE", text: "the preload that is wanted: 25.3kN" },
  { name: "share", value: "SHARE", text: "the share of the proof load that is wanted: 75%" },
  { name: "yield", value: "SHARE", text: "the share of the yield point, torsion included: 90%" },
  { name: "turn", value: "DEGREES", text: "turned on by so much after --torque; needs --grip" },
  { name: "grip", value: "LENGTH", text: "the length that is clamped: 40mm" },
  { name: "stays", text: "where nothing is given: propose for a joint that stays together" },
  { name: "friction", value: "MU|STATE", text: "coefficient 0.12 or 0.10..0.16, or plain, zinc, lubricated …" },
  { name: "head-friction", value: "MU", text: "the coefficient under the head, where it is another" },
  { name: "nut-factor", value: "K", text: "K of T = K·d·F instead: 0.2 or 0.15..0.3" },
  { name: "stated-for", value: "STATE", text: "the state of the threads that the torque is meant for" },
  { name: "face", value: "LENGTH", text: "diameter of the face that turns; with --hole" },
  { name: "hole", value: "LENGTH", text: "diameter of the hole under it" },
  { name: "method", value: "NAME", text: "torque-wrench, power-driver, stretch-measured, by-feel …" },
  { name: "running", value: "TORQUE", text: "running torque of a locknut, added" },
  { name: "clamp", value: "FORCE", text: "the force that each fastener must clamp" },
  { name: "wrench", value: "LOW-HIGH", many: true, text: "a wrench at hand: 20-100" },
  { name: "wrench-length", value: "LENGTH", text: "from the middle of the grip to the square drive; with --adapter" },
  { name: "adapter", value: "LENGTH", text: "from the square drive to the fastener" },
  { name: "adapter-angle", value: "DEGREES", text: "0 straight out, 90 square to the wrench" },
  { name: "multiplier", value: "RATIO", text: "of a torque multiplier" },
  { name: "efficiency", value: "SHARE", text: "of the multiplier, as its maker states" },
  { name: "one-time", text: "the fastener may be tightened once only" },
  { name: "used", text: "it has been tightened before" },
];

const PATTERN: readonly Flag[] = [
  { name: "joint", value: "ID", text: "of a file: this connection" },
  { name: "circle", value: "N", text: "so many evenly on a circle" },
  { name: "grid", value: "RxC", text: "rows and columns: 2x5" },
  { name: "hollow", text: "of the rectangle only the edge has bolts" },
  { name: "line", value: "N", text: "so many in a line" },
  { name: "bolt", value: '"ID X Y"', many: true, text: 'a bolt at its place: "c1 0mm 60mm"' },
  { name: "style", value: "NAME", text: "cross, centre-outwards or balanced; absent: what suits the layout" },
  { name: "torque", value: "TORQUE", text: "the final torque" },
  { name: "shares", value: "SHARE,…", many: true, text: "of the passes: 30%,60%,100% where it is not said" },
  { name: "turn", value: "DEGREES", many: true, text: "turned on after the last torque, pass by pass" },
  { name: "svg", text: "only the picture, as SVG" },
];

const KIT: readonly Flag[] = [
  { name: "store", value: "FILE", text: "shelves, stock and findings of the shop: *.store.yaml" },
  { name: "drained", value: '"FLUID AMOUNT"', many: true, text: 'measured as it ran out: "coolant 8.2 L"' },
];

const LEFT: readonly Flag[] = [
  { name: "left", value: '"N ITEM"', many: true, text: 'what lies there at the end: "3 M8×25"' },
  { name: "open", value: "ID,ID", many: true, text: "only these bags are open; absent: all" },
  { name: "closed", value: "ID,ID", many: true, text: "these bags are closed as empty, all others open" },
  {
    name: "counted",
    value: '"ID: N ITEM"',
    many: true,
    text: 'what was counted as it went in: "bell-bolts: 11 M10×45"',
  },
  { name: "marked", value: "ID,ID", many: true, text: "joints whose torque is recorded; absent: not known" },
];

/** `order`: what every command that plans takes. */
export const fasteningCommands = (order: readonly Flag[]): readonly Command[] => [
  {
    name: "torque",
    summary: "torque and preload of a joint, both ways, with its range and every check",
    about:
      "By hand with thread and class, or for the joints of a file. The maker's figure overrules a computed one; a proposal is marked. Exit code 1 when a check fails.",
    operands: [
      { name: "THREAD|FILE", text: "M10x1.5, 3/8-16 UNC, or a vehicle file" },
      { name: "CLASS", text: "8.8, 10.9, grade 5", optional: true },
    ],
    flags: TORQUE,
    example: "unmoor torque M10x1.5 8.8 --friction 0.12 --preload 25.3kN",
    load: async () => (await import("./torque.ts")).runTorque,
  },
  {
    name: "pattern",
    summary: "in which order and passes the bolts of a joint are tightened, and its picture",
    about: "From a named layout, from coordinates, or for a joint of a file.",
    operands: [{ ...FILE, optional: true }],
    flags: PATTERN,
    example: "unmoor pattern --circle 8 --torque 80Nm",
    load: async () => (await import("./pattern.ts")).runPattern,
  },
  {
    name: "kit",
    summary: "what the work takes: bags, new parts, fluids, plugs, tools, stand-by",
    about: "From the plan of these jobs. Exit code 1 when something does not come out even.",
    operands: [FILE],
    flags: [...KIT, ...order],
    example: "unmoor kit demo/bench-pump.vehicle.yaml --job shaft-seal --store demo/shop.store.yaml",
    load: async () => (await import("./kit.ts")).runKit,
  },
  {
    name: "leftover",
    summary: "which connection is short, by what is left over at the end",
    about: "Ranked by chance, from what each bag held, which are open and what is recorded.",
    operands: [FILE],
    flags: [...LEFT, ...order],
    example: "unmoor leftover demo/bench-pump.vehicle.yaml --job shaft-seal --left 1×M12×35",
    load: async () => (await import("./leftover.ts")).runLeftover,
  },
];

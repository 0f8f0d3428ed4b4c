// Owns the entry of the command `print` in the list of commands.

import type { Flag } from "./call.ts";
import type { Command } from "./command.ts";

const OWN: readonly Flag[] = [
  { name: "out", value: "FILE", text: "the PDF to write; -o for short" },
  { name: "html", value: "FILE", text: "also, or instead, the same content as a web page for screen readers" },
  {
    name: "only",
    value: "SHEET",
    many: true,
    text: "only these: chart, cards, lift, kit, torque, holes, sign-off, tags; of a run also shift, record",
  },
  { name: "person", value: "NAME", text: "the card of this person alone; with --crew, or of a run" },
  { name: "paper", value: "SIZE", text: "a4, or letter; else a4" },
  { name: "labels", value: "WxH", text: "tags and bag labels one by one for a label roll, in millimetres: 62x29" },
  { name: "lang", value: "LANG", text: "en, or de; else en" },
  { name: "address", value: "URL", text: "the web app's address, for the QR codes: https://shop.example" },
  {
    name: "font",
    value: "FILE",
    many: true,
    text: "a TrueType or OpenType file besides, for a script that the own fonts lack",
  },
  { name: "store", value: "FILE", text: "a store file: where things lie, and how many" },
  {
    name: "at",
    value: "TIME",
    text: "when it is made, as it is to stand on it: 2026-03-02T08:00Z; the same gives the same bytes",
  },
];

/** The command, for a list that has the flags of an order. */
export const printCommand = (order: readonly Flag[], crew: Flag, search: readonly Flag[]): Command => ({
  name: "print",
  summary: "the job pack on paper: cards, tags, tie chart, rigging, kit, torques, sign-off as one PDF",
  about:
    "Of a run in a shop's store (unmoor print SHOP RUN): the shift-change page and the as-run record, and with --only the sheets of its plan.",
  operands: [
    { name: "FILE", text: "the vehicle file (*.vehicle.yaml); or the shop's store" },
    { name: "RUN", text: "of a shop: the run, by the name of its order", optional: true },
  ],
  flags: [...order.filter(({ name }) => name !== "crew"), crew, ...search.filter(({ name }) => name !== "svg"), ...OWN],
  example: "unmoor print demo/plover-28.vehicle.yaml --job clutch-plate -o pack.pdf",
  load: async () => (await import("./print.ts")).runPrint,
});

// Owns the words of the tie chart, in German.

import type { Words } from "../said.ts";

export const chart: Words["chart"] = {
  title: "Bindungsbild",
  intro: (count, parts) =>
    `${count} Verbindungen binden ${parts} an das Fahrzeug. Vor dem Hub ist jede gelöst, und eine zweite Person hat sie gelöst gesehen.`,
  before: "Vorher",
  atLift: "Beim Hub",
  vehicle: "FAHRZEUG",
  assembly: "BAUGRUPPE",
  step: "Schritt",
  connection: "Verbindung",
  code: "Anhänger",
  seen: "gelöst gesehen",
  lines: { carrying: "trägt Gewicht", fluid: "Flüssigkeit darin", electric: "elektrisch", other: "sonstige" },
  alt: (rows) => `Jede Verbindung vom Fahrzeug zur Baugruppe: vorher ganz, beim Hub getrennt. ${rows}`,
  noLift: "Dieser Plan hebt nichts; keine Baugruppe wird losgemacht.",
};

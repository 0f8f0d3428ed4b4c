// Owns the words of the first page of a pack, in German.

import type { Words } from "../said.ts";

export const cover: Words["cover"] = {
  steps: "Schritte",
  oneByOne: "Ein Schritt nach dem anderen.",
  labour: "Arbeit, Lösen und Anbringen",
  labourIs: (labour, bound, proved) =>
    proved
      ? `${labour} Personenminuten; kein Plan braucht weniger`
      : `${labour} Personenminuten; kein Plan braucht weniger als ${bound}`,
  crew: "Mannschaft",
  elapsed: (who, elapsed, bound) => `${who}: ${elapsed}; keiner ihrer Ablaufpläne braucht weniger als ${bound}`,
  limit: (kilograms) => `Grenze der Datei ${kilograms} kg`,
  assumed: "Angenommen",
  assumedSteps: (count) =>
    `Bei ${count === 1 ? "einem Schritt" : `${count} Schritten`} steht eine Angabe nicht in der Datei: angenommen und am Schritt gekennzeichnet`,
  faults: "Der Rückweg hält nicht",
  faultsAre: (count) => `${count} Fehler: vor dem Drucken unmoor plan ansehen`,
  contents: "In dieser Mappe",
};

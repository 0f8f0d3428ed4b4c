// Owns the words of the tie chart, in English.

export const chart = {
  title: "Tie chart",
  intro: (count: number, parts: string) =>
    `${count} connections tie ${parts} to the vehicle. Before the lift every one is loose and seen loose by a second person.`,
  before: "Before",
  atLift: "At the lift",
  vehicle: "VEHICLE",
  assembly: "ASSEMBLY",
  step: "Step",
  connection: "Connection",
  code: "Tag",
  seen: "seen loose",
  lines: { carrying: "carries weight", fluid: "fluid inside", electric: "electric", other: "other" },
  alt: (rows: string) => `Each connection from the vehicle to the assembly: whole before, cut at the lift. ${rows}`,
  noLift: "This plan lifts nothing; no assembly is cast off.",
};

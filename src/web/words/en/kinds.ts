// Owns what the kinds of connection are called, in English.

export const kinds = {
  hose: "Hose",
  line: "Line",
  cable: "Cable",
  wire: "Wire",
  strap: "Strap",
  linkage: "Linkage",
  rod: "Rod",
  spring: "Spring",
  clamp: "Clamp",
  clip: "Clip",
  flange: "Flange",
  bracket: "Bracket",
  coupling: "Coupling",
  "shaft joint": "Shaft joint",
  "bolted joint": "Bolted joint",
  mount: "Mount",
  "cover fixing": "Cover fixing",
} as const;

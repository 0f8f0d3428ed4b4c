// Owns what the kinds of connection are called, in German.

import type { Words } from "../said.ts";

export const kinds: Words["kinds"] = {
  hose: "Schlauch",
  line: "Leitung",
  cable: "Kabel",
  wire: "Draht",
  strap: "Gurt",
  linkage: "Gestänge",
  rod: "Stange",
  spring: "Feder",
  clamp: "Schelle",
  clip: "Clip",
  flange: "Flansch",
  bracket: "Halter",
  coupling: "Kupplungsstück",
  "shaft joint": "Wellengelenk",
  "bolted joint": "Verschraubung",
  mount: "Lagerung",
  "cover fixing": "Deckelbefestigung",
};

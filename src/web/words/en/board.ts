// Owns the words of the board on the wall, in English.

export const board = {
  title: "All runs",
  loose: "undone",
  made: "made again",
  blocks: "What blocks",
  nothing: "Nothing is known to block it.",
  contradiction: (n: number) => (n === 1 ? "1 contradiction" : `${n} contradictions`),
  finding: (n: number) => (n === 1 ? "1 open finding" : `${n} open findings`),
  gate: (gate: string, n: number, first: string) => `${gate}: ${n} missing, first ${first}`,
  next: "Next",
  done: (half: string, most: string) => `done by ${half}, nine times in ten by ${most}`,
  left: (left: string) => `${left} of labour left`,
  reckoning: "reckoning …",
  how: "Finish: the order simulated as it was given, shortened by the labour that is done.",
  none: "No run is under way.",
  noneMend: "A run is here from the moment that it is begun.",
  away: (time: string) => `No line to the server. This is how it stood at ${time}.`,
  dark: "Dark",
  light: "Light",
} as const;

// Owns the words of the timeline and of the curve of crews, in English.

export const timeline = {
  elapsed: "Elapsed",
  labour: "Labour",
  curve: {
    people: "People",
    bound: "No less than",
    proved: "proved",
    cannot: "cannot be done",
    reads: "A ring is the shortest time found, the bar below it what no schedule gets under.",
    knee: (n: number) =>
      n === 1 ? "From one person on, one more spares little." : `From ${n} people on, one more spares little.`,
    spare: (tool: string, count: number, elapsed: string) => `With ${count} × ${tool} it would be ${elapsed}.`,
    noSpare: (tool: string) => `One more ${tool} would spare nothing.`,
  },
} as const;

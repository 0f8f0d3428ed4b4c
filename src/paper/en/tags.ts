// Owns the words of tags, bag labels and hole cards, in English.

export const tags = {
  title: "Tags: tie A and B to the two halves as they come apart",
  bags: "Bag labels",
  at: (half: string, part: string) => `${half} at ${part}`,
  thisHalf: (part: string) => `on ${part}`,
  mates: (others: string) => `mates with ${others}`,
  position: (where: string) => where,
  bag: (count: number, hardware: string) => `BAG: ${count} (${hardware})`,
  counted: (out: number, back: number | undefined) =>
    back === undefined ? `out at step ${out}` : `out at step ${out}, in at step ${back}`,
  reading: "Read the six characters aloud, or type them: no 0, 1, I, O among them, and the last one proves the rest.",
  holes: "Hole cards: stick each bolt through its place as it comes out",
  fullSize: "Full size: measure the bar before you trust it.",
  reduced: (scale: string) => `Does not fit the paper: drawn at ${scale}.`,
  tiled: (sheets: number) =>
    `${sheets} sheets at full size follow: print them without scaling, measure the bar on each, cut along the dashes and lay crosses on crosses, row by row.`,
  tile: (name: string, row: number, column: number) => `${name}: sheet ${row}/${column} (row/column)`,
  sheet: (row: number, column: number) => `sheet ${row}/${column}`,
  lay: "full size; crosses on crosses",
  noSize: "The file gives the order of the places, not their distances: not to scale.",
  holeAlt: (name: string, holes: string) => `Layout of ${name}, seen from the wrench: ${holes}`,
  noHoles: "No joint of this job has bolts of more than one length at places that the file names.",
};

// Owns the words of the torque sheet, in English.

export const torque = {
  title: "Torque sheet",
  intro:
    "Actual is what the wrench showed. Where the column 2nd is open, a second person reads too, without having seen the first figure.",
  step: "Step",
  joint: "Joint",
  target: "Target",
  band: "Tolerance, N·m",
  tool: "Tool",
  actual: "Actual",
  second: "2nd",
  initials: "Initials",
  paint: "Paint mark",
  proposal: "PROPOSED, not in the file",
  practice: (percent: string) =>
    `The file states no tolerance: ± ${percent} % is common practice, and what the start-up gate takes; where the maker gives another, his goes before it.`,
  coarse: "more than the tolerance",
  deviation:
    "Behind the tool: what a setting or indicating wrench in order may be off (ISO 6789:2003: ± 6 % up to 10 N·m, ± 4 % above); its certificate goes before that.",
  patterns: "Patterns: the number in the ring is the turn; a thick ring is the first",
  none: "Nothing of this job is tightened to a figure.",
  noTool: "not named",
  sizes: (size: string, isAll: boolean): string => (isAll ? `all ${size}` : `all without a size: ${size}`),
  circle: "Bolts evenly on a circle, 1 at the top: the file does not say where they are.",
};

// Owns the words of the torque sheet, in English.

export const torque = {
  title: "Torque sheet",
  intro: "Actual is what the wrench showed. Two people read the joints marked 2 without seeing each other's figure.",
  step: "Step",
  joint: "Joint",
  target: "Target",
  band: "Tolerance",
  tool: "Tool",
  actual: "Actual",
  second: "2nd",
  initials: "Initials",
  paint: "Paint mark",
  proposal: "PROPOSED, not in the file",
  practice: (percent: string) => `± ${percent} % is common practice, no file or source states it.`,
  patterns: "Patterns: the number in the ring is the turn; a thick ring is the first",
  none: "Nothing of this job is tightened to a figure.",
  noTool: "not named",
  circle: "Bolts evenly on a circle, 1 at the top: the file does not say where they are.",
};

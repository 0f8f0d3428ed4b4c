// Owns the words of the first page of a pack, in English.

export const cover = {
  steps: "Steps",
  oneByOne: "One step after the other.",
  labour: "Labour, release and refit",
  labourIs: (labour: string, bound: string, proved: boolean) =>
    proved
      ? `${labour} person-minutes; no plan takes less`
      : `${labour} person-minutes; no plan takes less than ${bound}`,
  crew: "Crew",
  elapsed: (who: string, elapsed: string, bound: string) =>
    `${who}: ${elapsed}; no schedule of theirs takes less than ${bound}`,
  limit: (kilograms: string) => `the file's limit ${kilograms} kg`,
  assumed: "Assumed",
  assumedSteps: (count: number) =>
    `${count === 1 ? "One step has a figure" : `${count} steps have a figure`} that the file does not give: assumed, and marked at the step`,
  faults: "The way back does not hold",
  faultsAre: (count: number) => `${count === 1 ? "One fault" : `${count} faults`}: see unmoor plan before you print`,
  contents: "In this pack",
};

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
  assumedFigures: (count: number) =>
    `${count} figures are not in the file and were assumed; each is marked where it stands`,
  faults: "The way back does not hold",
  faultsAre: (count: number) => `${count} faults: see unmoor plan before you print`,
  contents: "In this pack",
};

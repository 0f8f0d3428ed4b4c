// Owns what the plans of a run are called: the first that it is begun with, and each that replaces another.

/** @param number 1 for the plan that the run is begun with */
export const planName = (run: string, number: number): string => `${run}.p${number}`;

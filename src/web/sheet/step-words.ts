// Owns the verb that stands before what a step is called: where the file names a thing. A task is called by what is to be done already.

import type { Words } from "../words/said.ts";

const OF_CONNECTIONS = ["release", "loosen", "refit", "tighten"] as const;

/** "Release: ", or nothing: "Undo: Lower it to the ground" would have it raised. */
export const verbBefore = ({ ties }: Words, action: string): string => {
  const verb = OF_CONNECTIONS.find((one) => one === action);
  return verb === undefined ? "" : `${ties.actions[verb]}: `;
};

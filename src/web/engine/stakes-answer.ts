// Owns the answer to what the open questions of a file can change: what is at stake with each, by its name.

import { type AtStake, questionsIn, stakesFor } from "../../draft/index.ts";
import { patient } from "./bench.ts";
import type { Answers } from "./thread.ts";

export type StakesSaid = ReadonlyMap<string, AtStake>;

/** Milliseconds of all searches together. */
const PATIENCE = 4000;

export const stakes: Answers["stakes"] = async (bench) => {
  const { vehicle, gaps } = await bench.read();
  const [main] = bench.files;
  if (vehicle === undefined || main === undefined) return new Map();
  const questions = questionsIn(main.text, vehicle, gaps, main.path);
  return stakesFor(main.text, vehicle, questions, { now: patient().now, milliseconds: PATIENCE });
};

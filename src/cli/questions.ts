// Owns the questions of a vehicle file as the command line puts them: searched for a moment, in sentences with what each can change, and as data.

import { readFileSync } from "node:fs";
import { type AtStake, askedOf, type Ranked, sayQuestion, sayStake } from "../draft/index.ts";
import type { Reading } from "../vehicle/index.ts";
import type { QuestionDocument } from "./draft-documents.ts";
import type { Terminal } from "./terminal.ts";

/** Milliseconds for all that the questions of a file are searched. */
const PATIENCE = 3000;

export const questionsIn = (
  text: string,
  path: string,
  { vehicle, gaps }: Reading,
  milliseconds = PATIENCE,
): readonly Ranked[] =>
  vehicle === undefined ? [] : askedOf(text, vehicle, gaps, path, { milliseconds, now: () => performance.now() });

export const questionsAt = (path: string, reading: Reading, milliseconds?: number): readonly Ranked[] =>
  questionsIn(readFileSync(path, "utf8"), path, reading, milliseconds);

export const describeQuestion = (question: Ranked): QuestionDocument => {
  const { name: _, label: __, stake, choices, on, ...rest } = question;
  return {
    ...rest,
    text: sayQuestion(question),
    changes: sayStake(question),
    ...(on === undefined ? {} : { on: on.id }),
    ...(choices === undefined ? {} : { choices: choices.map(({ value }) => value) }),
    ...(stake === undefined ? {} : { stake: describeStake(stake) }),
  };
};

const describeStake = ({ isWorth: _, ...stake }: AtStake): NonNullable<QuestionDocument["stake"]> => ({
  ...stake,
  to: Number.isFinite(stake.to) ? stake.to : null,
});

/** Figures first by what they change, then how many guesses may stand as they are. */
export function sayQuestions(questions: readonly Ranked[], { ink }: Terminal, most = Number.POSITIVE_INFINITY): string {
  const open = questions.filter(({ asks }) => asks === "figure").length;
  const guessed = questions.length - open;
  const head = `Still to be asked (${open}${guessed === 0 ? "" : `, and ${guessed} that were taken for granted`}), what changes the plan most first:`;
  return `${ink.doubt(head)}\n${questions
    .slice(0, most)
    .map(
      (one) =>
        `  ${one.at.file}:${one.at.line}:${one.at.column}  ${sayQuestion(one)}\n      ${ink.faint(`${sayStake(one)}.`)}`,
    )
    .join("\n")}`;
}

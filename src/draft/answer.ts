// Owns the answer to a question put into the text of a file: a figure in the place of its "?", what was taken for granted said so no longer.

import type { Gap } from "../vehicle/index.ts";
import { type Edited, edit } from "./edit.ts";
import { put, textsIn } from "./patch.ts";
import { BY_KIND, ENDS_OPEN, type Question } from "./question.ts";
import { Sheet } from "./sheet.ts";
import { asWritten } from "./typed-figure.ts";

const NO_ANSWER = (mend: string): Edited => ({ what: "that is no answer", mend });

/** @param gaps of the text as it is: a figure is found again by what it is of */
export function answerQuestion(text: string, question: Question, typed: string, gaps: readonly Gap[]): Edited {
  const { asks, of, choices = [] } = question;
  const on = question.on?.id ?? "";
  const answer = typed.trim();
  const chosen = choices.find(({ value, label }) =>
    [value, label].some((one) => one.toLowerCase() === answer.toLowerCase()),
  )?.value;
  const isYes = /^(y|yes|j|ja)$/i.test(answer);
  const isNo = /^(n|no|nein)$/i.test(answer);
  switch (asks) {
    case "figure":
      return answerFigure(text, question, answer, gaps);
    case "minutes":
      return answerMinutes(text, of, answer);
    case "position":
      return edit(text, { is: "move", id: of, to: chosen === undefined ? { label: answer } : { id: chosen } });
    case "joins":
      return chosen === undefined ? NO_ANSWER(sayChoices(question)) : answerJoins(text, of, chosen);
    case "there":
      if (isYes) return edit(text, { is: "accept", id: of });
      return isNo ? edit(text, { is: "delete", id: of }) : NO_ANSWER(sayChoices(question));
    case "before":
      if (isYes) return withoutReason(text, of, on);
      return isNo ? edit(text, { is: "wait", id: of, on, isNeeded: false }) : NO_ANSWER(sayChoices(question));
  }
}

const sayChoices = ({ choices = [] }: Question): string =>
  `Write one of ${choices.map(({ label }) => label).join("; ")}.`;

function answerFigure(text: string, { of, key, name }: Question, answer: string, gaps: readonly Gap[]): Edited {
  const n = Number(/ (\d+)$/.exec(name)?.[1] ?? 1);
  const gap = gaps.filter((one) => one.of === of && one.key === key)[n - 1];
  const changed = gap === undefined ? undefined : answerGap(text, gap, asWritten(key, answer));
  return changed === undefined
    ? NO_ANSWER("It is answered already, or stands in another file.")
    : { text: changed, id: of };
}

/** The text of a file with an answer in the place of its "?"; nothing else of it is touched. */
function answerGap(text: string, gap: Gap, answer: string): string | undefined {
  const lines = text.split("\n");
  const line = lines[gap.at.line - 1];
  if (line === undefined) return undefined;
  const at = gap.at.column - 1;
  if (line.slice(at, at + 3) !== '"?"' && line.slice(at, at + 3) !== "'?'") return undefined;
  lines[gap.at.line - 1] = `${line.slice(0, at)}${answer}${line.slice(at + 3)}`;
  return lines.join("\n");
}

/** Changes one thing's own lines. */
function changed(text: string, of: string, change: (block: string) => string): Edited {
  const sheet = new Sheet(text);
  const item = sheet.find(of, "connections", "tasks");
  if (item === undefined) return NO_ANSWER("It is not written where it could be changed: change it in the text.");
  sheet.write(item, sheet.headOf(item), change(sheet.blockOf(item)));
  return { text: sheet.text, id: of };
}

const answerMinutes = (text: string, of: string, answer: string): Edited => {
  const isTask = new Sheet(text).find(of, "tasks") !== undefined;
  const path = isTask ? ["time"] : ["release", "time"];
  return changed(text, of, (block) => put(block, path, asWritten("time", answer)).replace(BY_KIND, ""));
};

const answerJoins = (text: string, of: string, chosen: string): Edited =>
  changed(text, of, (block) => {
    const ids = chosen.split(" + ");
    const same = textsIn(block, "joins").join(" + ") === chosen;
    return (same ? block : put(block, ["joins"], `[${ids.join(", ")}]`)).replace(ENDS_OPEN, "");
  });

/** It stays, and is no guess any more. */
const withoutReason = (text: string, of: string, on: string): Edited =>
  changed(text, of, (block) =>
    block
      .split("\n")
      .filter((line) => !line.trim().startsWith(`# needs ${on}: `))
      .join("\n"),
  );

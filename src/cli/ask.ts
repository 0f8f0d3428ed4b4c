// Owns the command `ask`: the open questions of a vehicle file, one by one, and the answers written in their place.

import { readFileSync, writeFileSync } from "node:fs";
import { createInterface } from "node:readline/promises";
import { answerGap, type Question, questionsOf } from "../draft/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import type { Terminal } from "./terminal.ts";

export async function runAsk({ operands, flags }: Call, terminal: Terminal): Promise<Exit> {
  const path = operands[0] ?? "";
  const taken = await takeVehicle(path, terminal, flags.has("json"));
  if (typeof taken === "number") return taken;
  const questions = questionsOf(taken.vehicle, taken.reading.gaps).filter(({ at }) => at.file === path);
  if (flags.has("json")) {
    terminal.say(JSON.stringify({ format: "unmoor/ask/1", file: path, questions }, undefined, 2));
    return EXIT.found;
  }
  const next = answers(terminal);
  let answered = 0;
  // From the end of a line backward, so that an answer moves no other question: each is found again by what it is of.
  for (const question of questions) {
    const answer = await next(question.text);
    if (answer === undefined) break;
    if (answer.trim() !== "" && put(path, question, answer.trim(), terminal)) answered += 1;
  }
  terminal.say(`${answered} of ${questions.length} questions answered in ${path}.`);
  return EXIT.found;
}

/** Writes one answer, if the file is sound with it; else says why not, and the question stays. */
function put(path: string, question: Question, answer: string, terminal: Terminal): boolean {
  const text = readFileSync(path, "utf8");
  const load = (asked: string) => (asked === path ? text : readFileSync(asked, "utf8"));
  const now = readVehicle(path, load).gaps.find(
    ({ of, key, at }) => of === question.of && key === question.key && at.line === question.at.line,
  );
  const changed = now === undefined ? undefined : answerGap(text, now, answer);
  if (changed === undefined) return false;
  const reading = readVehicle(path, (asked) => (asked === path ? changed : readFileSync(asked, "utf8")));
  const [fault] = reading.faults;
  if (fault !== undefined) {
    terminal.warn(`${fault.what} ${fault.mend} The question stays open.`);
    return false;
  }
  writeFileSync(path, changed);
  return true;
}

/** The lines that are piped in, or typed after each question. */
function answers(terminal: Terminal): (prompt: string) => Promise<string | undefined> {
  if (process.stdin.isTTY) {
    const lines = createInterface({ input: process.stdin, output: process.stderr });
    return async (prompt) => {
      const answer = await lines.question(`${prompt}\n> `);
      if (answer.trim() === "q") {
        lines.close();
        return undefined;
      }
      return answer;
    };
  }
  const lines = terminal.input().split(/\r?\n/);
  if (lines.at(-1) === "") lines.pop();
  return (prompt) => {
    terminal.say(prompt);
    return Promise.resolve(lines.shift());
  };
}

// Owns the command `ask`: the open questions of a vehicle file, one by one, and the answers written in their place.

import { readFileSync, writeFileSync } from "node:fs";
import { createInterface } from "node:readline/promises";
import { answerQuestion, questionsIn, type Ranked, sayQuestion, sayStake } from "../draft/index.ts";
import { type Reading, readVehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import { describeQuestion, questionsAt } from "./questions.ts";
import type { Terminal } from "./terminal.ts";
import { sayUnsaid } from "./unsaid.ts";

/** Milliseconds between two questions that are typed, in which what is left is put in order anew. */
const BETWEEN = 700;

export async function runAsk({ operands, flags }: Call, terminal: Terminal): Promise<Exit> {
  const path = operands[0] ?? "";
  const taken = await takeVehicle(path, terminal, flags.has("json"));
  if (typeof taken === "number") return taken;
  let questions: readonly Ranked[] = questionsAt(path, taken.reading).filter(({ at }) => at.file === path);
  if (flags.has("json")) {
    const described = questions.map(describeQuestion);
    terminal.say(JSON.stringify({ format: "unmoor/ask/1", file: path, questions: described }, undefined, 2));
    return EXIT.found;
  }
  const before = readFileSync(path, "utf8");
  const next = answers(terminal);
  const asked = new Set<string>();
  let answered = 0;
  for (let [question] = questions; question !== undefined; [question] = questions) {
    asked.add(question.name);
    const answer = await next(promptFor(question));
    if (answer === undefined) break;
    const isPut = answer.trim() !== "" && put(path, question, answer, terminal);
    if (isPut) answered += 1;
    // What is piped in was written for the order as it was; somebody who types is asked what matters most by now.
    if (isPut && process.stdin.isTTY) questions = questionsAt(path, readAt(path), BETWEEN);
    const standing = isPut ? namesAt(path) : undefined;
    questions = questions.filter(({ name }) => !asked.has(name) && standing?.has(name) !== false);
  }
  terminal.say(`${answered} of ${asked.size} questions answered in ${path}.`);
  if (answered > 0) sayUnsaid(before, readFileSync(path, "utf8"), (text) => readAt(path, text), terminal);
  return EXIT.found;
}

const promptFor = (question: Ranked): string =>
  `${sayQuestion(question)}${question.choices === undefined ? "" : ` (${question.choices.map(({ label }) => label).join(" | ")})`}\n  ${sayStake(question)}.`;

const readAt = (path: string, text = readFileSync(path, "utf8")): Reading =>
  readVehicle(path, (asked) => (asked === path ? text : readFileSync(asked, "utf8")));

/** Questions that are gone by an answer to another one are not asked. */
function namesAt(path: string): ReadonlySet<string> | undefined {
  const { vehicle, gaps } = readAt(path);
  if (vehicle === undefined) return undefined;
  return new Set(questionsIn(readFileSync(path, "utf8"), vehicle, gaps, path).map(({ name }) => name));
}

/** Writes one answer, if the file is sound with it; else says why not, and the question stays. */
function put(path: string, question: Ranked, answer: string, terminal: Terminal): boolean {
  const text = readFileSync(path, "utf8");
  const changed = answerQuestion(text, question, answer, readAt(path, text).gaps);
  const wrong = "what" in changed ? changed : readAt(path, changed.text).faults[0];
  if (wrong !== undefined || !("text" in changed)) {
    terminal.warn(`${(wrong?.what ?? "").replace(/\.?$/, ".")} ${wrong?.mend ?? ""} The question stays open.`);
    return false;
  }
  writeFileSync(path, changed.text);
  return true;
}

/** The lines that are piped in, or typed after each question. */
function answers(terminal: Terminal): (prompt: string) => Promise<string | undefined> {
  if (process.stdin.isTTY) {
    terminal.warn("An empty line leaves a question open; q ends.");
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

// Owns the start of the command line: which command is called, what is said when there is no such command, and when one of them breaks.

import manifest from "../../package.json" with { type: "json" };
import { type CallFault, readCall } from "./call.ts";
import type { Command } from "./command.ts";
import { COMMANDS } from "./commands.ts";
import { EXIT, type Exit } from "./exit.ts";
import { describeCommand, describeTool } from "./help.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

/** Does what the words of a call ask for, on that terminal, and gives the exit code. It never throws. */
export async function start(words: readonly string[], terminal: Terminal): Promise<Exit> {
  try {
    return await answer(words, terminal);
  } catch (error) {
    terminal.warn(
      `unmoor: a fault of unmoor itself, not of the file or the call.\n${error instanceof Error ? error.stack : error}`,
    );
    return EXIT.broken;
  }
}

function answer(words: readonly string[], terminal: Terminal): Exit | Promise<Exit> {
  const [first, ...rest] = words;
  const help = first === "help" ? rest[0] : undefined;
  const command = COMMANDS.find(({ name }) => name === (help ?? first));
  if (command !== undefined) return help === undefined ? call(command, rest, terminal) : tellCommand(command, terminal);
  if (first === "version" || first === "--version" || first === "-v") return tell(terminal, manifest.version);
  if (help === undefined && (first === "help" || first === "--help" || first === "-h"))
    return tell(terminal, describeTool());
  if (first === undefined) {
    terminal.warn(describeTool());
    return EXIT.call;
  }
  const names = [...COMMANDS.map(({ name }) => name), "version", "help"];
  return refuse(terminal, [{ what: `there is no command ${help ?? first}`, mend: mendWord(help ?? first, names) }]);
}

/** What a single letter stands for, as most tools have it. */
const SHORT: Readonly<Record<string, string>> = { "-h": "--help", "-o": "--out" };

async function call(asked: Command, words: readonly string[], terminal: Terminal): Promise<Exit> {
  const command = await inFull(asked);
  const read = readCall(
    command,
    serverFirst(command, words).map((word) => SHORT[word] ?? word),
  );
  if (!("flags" in read)) return refuse(terminal, read);
  if (read.flags.has("help")) return tell(terminal, describeCommand(command));
  const run = await command.load();
  return run(read, terminal);
}

/** `--server URL` stands where the shop would. */
function serverFirst({ operands }: Command, words: readonly string[]): readonly string[] {
  const place = words.indexOf("--server");
  const url = words[place + 1];
  if (place < 0 || url === undefined || operands[0]?.name !== "SHOP") return words;
  return [url, ...words.slice(0, place), ...words.slice(place + 2)];
}

async function tellCommand(command: Command, terminal: Terminal): Promise<Exit> {
  return tell(terminal, describeCommand(await inFull(command)));
}

/** A command with every flag that it takes. */
async function inFull(command: Command): Promise<Command> {
  const more = await command.moreFlags?.();
  return more === undefined ? command : { ...command, flags: [...command.flags, ...more] };
}

function tell(terminal: Terminal, text: string): Exit {
  terminal.say(text);
  return EXIT.found;
}

function refuse(terminal: Terminal, faults: readonly CallFault[]): Exit {
  for (const { what, mend } of faults) terminal.warn(`unmoor: ${what}. ${mend}`);
  return EXIT.call;
}

// Owns the call: the words after `unmoor`, read against what a command takes, and what is wrong with them as data.
import { parseArgs } from "node:util";
import { indexWords } from "../vehicle/index.ts";
import { mendWord } from "./words.ts";

export interface Flag {
  readonly name: string;
  /** What its value is, in capitals: "ID", "SECONDS". Absent: it takes none. */
  readonly value?: string;
  readonly many?: boolean;
  /** One letter for it: -o. */
  readonly short?: string;
  /** Its value is a number above 0. */
  readonly number?: boolean;
  readonly text: string;
}

export interface Operand {
  readonly name: string;
  readonly text: string;
  readonly optional?: boolean;
  /** The last of a command only: one or more of it. */
  readonly many?: boolean;
}

/** What a command takes. */
export interface Form {
  readonly name: string;
  readonly operands: readonly Operand[];
  readonly flags: readonly Flag[];
}

/** A call that its form allows. */
export interface Call {
  readonly operands: readonly string[];
  /** Values by flag name, in the order given; commas part them. A flag without a value: one empty string. */
  readonly flags: ReadonlyMap<string, readonly string[]>;
}

export interface CallFault {
  readonly what: string;
  readonly mend: string;
}

/** Flags that every command takes. */
export const ALWAYS: readonly Flag[] = [
  { name: "json", text: "one JSON document on standard output, nothing else" },
  { name: "help", text: "this text" },
];

/** Reads the words after the command's name. Every fault is given, not the first. */
export function readCall(form: Form, words: readonly string[]): Call | readonly CallFault[] {
  const known = [...form.flags, ...ALWAYS];
  const { tokens } = parseArgs({
    args: [...words],
    options: Object.fromEntries(
      known.map(({ name, value, short }) => [
        name,
        { type: value ? "string" : "boolean", ...(short === undefined ? {} : { short }) } as const,
      ]),
    ),
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  const operands: string[] = [];
  // What follows a misspelt flag is most likely its value, and no word too many.
  let afterUnknown = false;
  const flags = new Map<string, readonly string[]>();
  const faults: CallFault[] = [];
  for (const token of tokens) {
    if (token.kind === "positional" && !afterUnknown) operands.push(token.value);
    afterUnknown = false;
    if (token.kind !== "option") continue;
    const flag = known.find(({ name }) => name === token.name);
    afterUnknown = flag === undefined && !token.inlineValue && wordAfterIsValue(form, known, token.name);
    const before = flags.get(token.name);
    const values = flag?.value ? splitList(token.value ?? "") : [""];
    if (flag === undefined) faults.push(unknownFlag(form, known, token.rawName));
    else if (flag.value === undefined && token.value !== undefined) {
      faults.push({ what: `--${flag.name} takes no value`, mend: `Write --${flag.name} alone.` });
    } else if (values.length === 0 || (!token.inlineValue && values[0]?.startsWith("--"))) {
      faults.push({ what: `--${flag.name} has no ${flag.value}`, mend: `Write --${flag.name} ${flag.value}.` });
    } else if (!flag.many && (values.length > 1 || (before && flag.value))) {
      faults.push({ what: `--${flag.name} is given more than once`, mend: `Give one ${flag.value}.` });
    } else if (flag.number && !(Number(values[0]) > 0 && Number.isFinite(Number(values[0])))) {
      faults.push({
        what: `--${flag.name} ${values[0]} is no number above 0`,
        mend: `Write for example --${flag.name} 30.`,
      });
    }
    flags.set(token.name, [...(before ?? []), ...values]);
  }
  if (flags.has("help")) return { operands, flags };
  faults.push(...countOperands(form, operands, flags));
  return faults.length > 0 ? faults : { operands, flags };
}

/** Whether the flag that a misspelt one most likely means takes a value; where none is like it, a command that has such flags is given the doubt. */
function wordAfterIsValue(form: Form, known: readonly Flag[], name: string): boolean {
  const near = indexWords(known.map((flag) => flag.name))(name);
  return near === undefined
    ? form.flags.some(({ value }) => value)
    : known.some((flag) => flag.name === near && flag.value);
}

function unknownFlag(form: Form, known: readonly Flag[], raw: string): CallFault {
  const names = known.map(({ name }) => name);
  return {
    what: `${form.name} has no flag ${raw}`,
    mend: mendWord(raw.replace(/^-+/, ""), names, (name) => `--${name}`),
  };
}

function countOperands(form: Form, operands: readonly string[], flags: Call["flags"]): CallFault[] {
  const missing = form.operands.slice(operands.length).filter(({ optional }) => !optional);
  const extra = form.operands.at(-1)?.many ? [] : operands.slice(form.operands.length);
  const list = form.flags.find(({ name, many }) => many && flags.has(name));
  return [
    ...missing.map(({ name, text }) => ({
      what: `${form.name} needs ${name}, ${text}`,
      mend: `Write ${usage(form)}.`,
    })),
    ...extra.map((word) => ({
      what: `"${word}" is one word too many`,
      mend: list ? `A second ${list.value} is given with a second --${list.name}.` : `Write ${usage(form)}.`,
    })),
  ];
}

/** The one-line usage of a command. */
export function usage({ name, operands, flags }: Form): string {
  const shown = operands.map(({ optional, many, name: word }) => {
    const each = many ? `${word}…` : word;
    return optional ? `[${each}]` : each;
  });
  const asked = flags.map((flag) => `[--${flag.name}${flag.value ? ` ${flag.value}${flag.many ? "…" : ""}` : ""}]`);
  return ["unmoor", name, ...shown, ...asked].join(" ");
}

function splitList(text: string): string[] {
  return text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");
}

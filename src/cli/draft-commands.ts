// Owns the entries of draft and ask in the list of commands.

import type { Command } from "./command.ts";

export const draftCommands: readonly Command[] = [
  {
    name: "draft",
    summary: "from a narration, captions or a table to a vehicle file, with what was not said",
    about:
      'Captions (.srt, .vtt), plain text, numbered steps or a table. Figures that were not said are written "?" and asked by check and ask.',
    operands: [{ name: "FILE", text: "a narration or a table", many: true }],
    flags: [
      {
        name: "out",
        short: "o",
        value: "FILE",
        text: "or -o: write the vehicle file here; else it follows the report",
      },
      { name: "name", value: "NAME", text: "what the vehicle is called" },
      {
        name: "into",
        value: "VEHICLE",
        text: "a vehicle file to which it is added: in that file, or with -o in a new one",
      },
      {
        name: "column",
        value: "NAME=WHAT",
        many: true,
        text: "a column of the table, and what it is: label, kind, position, count, joins, time, hardware, torque",
      },
      {
        name: "lang",
        value: "CODE|FILE",
        text: "the language it is told in, en or de, or a file of words; else the one whose little words it has most of",
      },
    ],
    example: "unmoor draft demo/narrations/hauler.vtt",
    load: async () => (await import("./draft.ts")).runDraft,
  },
  {
    name: "ask",
    summary: "go through the open questions of a vehicle file and write the answers in",
    about:
      "One line for each answer, on the terminal or piped in; an empty line leaves a question open. Comments and order of the file stay as they are.",
    operands: [{ name: "FILE", text: "the vehicle file (*.vehicle.yaml)" }],
    flags: [],
    example: "unmoor ask demo/bench-pump.vehicle.yaml",
    load: async () => (await import("./ask.ts")).runAsk,
  },
  {
    name: "table",
    summary: "the connections of a vehicle file as a spreadsheet, out and in again",
    about:
      "Comma-separated values, a row for each way of release, every cell as the file has it. Taken in again unchanged it changes nothing; an empty cell leaves what is there, a row without a known id is a new connection.",
    operands: [{ name: "FILE", text: "the vehicle file (*.vehicle.yaml)" }],
    flags: [
      {
        name: "out",
        short: "o",
        value: "FILE",
        text: "or -o: write the spreadsheet, or the changed vehicle file, here",
      },
      { name: "take-in", value: "TABLE", text: "the spreadsheet that was filled in" },
    ],
    example: "unmoor table demo/bench-pump.vehicle.yaml -o ties.csv",
    load: async () => (await import("./table.ts")).runTable,
  },
];

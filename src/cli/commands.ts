// Owns the list of commands: what each is for, what it takes, and where its work is. A new command is one file and one entry here.

import type { Flag, Operand } from "./call.ts";
import type { Command } from "./command.ts";
import { draftCommands } from "./draft-commands.ts";
import { fasteningCommands } from "./fastening-commands.ts";
import { printCommand } from "./print-command.ts";
import { riggingCommands } from "./rigging-commands.ts";
import { runCommands } from "./run-commands.ts";
import { SHOP_COMMANDS } from "./shop-commands.ts";
import { timesCommands } from "./times-commands.ts";

const FILE: Operand = { name: "FILE", text: "the vehicle file (*.vehicle.yaml)" };

/** What every command that plans takes: the order. */
const ORDER: readonly Flag[] = [
  { name: "job", value: "ID", many: true, text: "a job of the file; give it again for more jobs" },
  { name: "keep", value: "PART", many: true, text: "this part may not go up with the lift" },
  { name: "take", value: "PART", many: true, text: "this part must go up with the lift" },
  { name: "hoist", value: "ID", text: "lift with this hoist of the file" },
  { name: "released", value: "ID,ID", many: true, text: "connections that are released already" },
  {
    name: "crew",
    value: "ID,ID",
    many: true,
    text: "only these people of the file's shop, or so many who can do anything: --crew 2",
  },
  { name: "without-tool", value: "NAME", many: true, text: "plan without this tool" },
  { name: "within", value: "SECONDS", number: true, text: "stop then, with the best so far and its gap" },
];

const EXTRA: readonly Flag[] = [
  { name: "others", text: "also what every other job of the vehicle would add now, against by itself" },
];

const CREW: Flag = {
  name: "crew",
  value: "N|FILE",
  many: true,
  text: "who does what when: so many people who can do anything, a crew file, or ids of the file's shop",
};

/** What a search for a schedule takes. */
const SEARCH: readonly Flag[] = [
  {
    name: "seconds",
    value: "S",
    number: true,
    text: "search so long for a schedule; else 10 s, of the curve 5 s a point",
  },
  { name: "seed", value: "N", number: true, text: "search from another beginning" },
  { name: "svg", value: "FILE", text: "also draw it into this file" },
];

/** How the work stands when it is planned anew. */
const STANDING: readonly Flag[] = [
  { name: "now", value: "MINUTE", text: "with --crew: plan what is left from this minute of the order on" },
  {
    name: "told",
    value: "FILE",
    text: "the schedule that was told, as --json wrote it; what it has over by now is done",
  },
  { name: "done", value: "ID,ID", many: true, text: "steps that are done besides, by the ids of --json" },
  { name: "open", value: "ID,ID", many: true, text: "steps that are not begun, whatever was told" },
  { name: "begun", value: "ID@MIN=WHO+WHO", many: true, text: "steps that have begun: at which minute, by whom" },
  { name: "on", value: "ID,ID", many: true, text: "states of the vehicle that are on" },
];

const REASONS: Flag = {
  name: "reasons",
  text: "also why each step is made, and what each part at the edge of a lift would cost on the other side",
};

export const COMMANDS: readonly Command[] = [
  {
    name: "check",
    summary: "is the vehicle file sound? every fault at once, with its place and its mend",
    about: "Faults make the file unusable; warnings are legal but dubious, and leave exit code 0.",
    operands: [FILE],
    flags: [],
    example: "unmoor check demo/plover-28.vehicle.yaml",
    load: async () => (await import("./check.ts")).runCheck,
  },
  {
    name: "release",
    summary: "what must come off for these jobs: the cheapest set, with its proof",
    about: "Least labour, release and refit together. Ctrl-C stops the search and gives the best so far with its gap.",
    operands: [FILE],
    flags: [...ORDER, ...EXTRA, REASONS],
    example: "unmoor release demo/plover-28.vehicle.yaml --job clutch-plate",
    load: async () => (await import("./release.ts")).runRelease,
  },
  {
    name: "free",
    summary: "are these parts free with these connections released? if not, what still ties them",
    about: "Looks at ties alone: whether nothing joins the parts to the vehicle, not in which order it can be done.",
    operands: [FILE],
    flags: [
      { name: "released", value: "ID,ID", many: true, text: "the connections that are released" },
      {
        name: "take",
        value: "PART",
        many: true,
        text: "the parts asked about; absent: what the file's lifts take hold of",
      },
    ],
    example: "unmoor free demo/bench-pump.vehicle.yaml --released coupling,suction-hose,case-drain",
    load: async () => (await import("./free.ts")).runFree,
  },
  {
    name: "why",
    summary: "why is this connection released? the chain of reasons, and what leaving it would cost",
    about: "Also for a connection that stays on: what releasing it would add.",
    operands: [FILE, { name: "CONNECTION", text: "a connection of the file, or a task" }],
    flags: ORDER,
    example: "unmoor why demo/plover-28.vehicle.yaml --job clutch-plate radiator-top-hose",
    load: async () => (await import("./why.ts")).runWhy,
  },
  {
    name: "plan",
    summary: "the whole sequence for one pair of hands, out and back; with --crew who does what when",
    about:
      "By position, numbered, with minutes, tools, what to plug and mark, and the checks that hold it up. With --crew a page for each person,\nthe vehicle's states over time, what makes it this long, and a time that no schedule of that crew gets below.",
    operands: [FILE],
    flags: [...ORDER.filter(({ name }) => name !== "crew"), CREW, ...SEARCH, ...STANDING, ...EXTRA],
    example: "unmoor plan demo/plover-28.vehicle.yaml --job clutch-plate",
    load: async () => (await import("./plan.ts")).runPlan,
  },
  {
    name: "crew",
    summary: "how long it takes with one person, two, three …, and where one more spares little",
    about:
      "Everybody can do anything, and is always there. Each time with the bound that no schedule of so many people is below.",
    operands: [FILE],
    flags: [
      ...ORDER.filter(({ name }) => name !== "crew"),
      { name: "up-to", value: "N", number: true, text: "up to so many people; 5 where it is not said" },
      { name: "due", value: "TIME", text: "only the fewest people who have it done in so long: 6.5 h" },
      ...SEARCH,
    ],
    example: "unmoor crew demo/bench-pump.vehicle.yaml --job shaft-seal --up-to 3 --seconds 1",
    load: async () => (await import("./crew.ts")).runCrew,
  },
  printCommand(ORDER, CREW, SEARCH),
  ...riggingCommands(ORDER),
  ...fasteningCommands(ORDER),
  ...timesCommands(ORDER, SEARCH),
  ...runCommands(ORDER, CREW),
  ...SHOP_COMMANDS,
  ...draftCommands,
  {
    name: "schema",
    summary: "print the JSON Schema of the vehicle file, or of a command's --json",
    about: "Without a name: the list of them. An editor that knows JSON Schema completes the vehicle file from it.",
    operands: [{ name: "NAME", text: "vehicle, or a command", optional: true }],
    flags: [],
    example: "unmoor schema vehicle > vehicle.schema.json",
    load: async () => (await import("./schema.ts")).runSchema,
  },
];

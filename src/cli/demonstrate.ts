// Owns the command `demonstrate`: how many repairs must be timed to show that a requirement is met, and what those that were timed say.

import { readQuantity } from "../quantity/index.ts";
import { type Demonstrated, demonstrate, type Requirement, type Risks, unsound } from "../times/index.ts";
import type { Call } from "./call.ts";
import { readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { DemonstrateDocument } from "./times-documents.ts";
import { sayFolded } from "./times-text.ts";
import { mendWord } from "./words.ts";

const KINDS = ["mean", "percentile", "share"] as const;
/** Of producer and of consumer each, where nothing is said. */
const RISK = 0.1;

/** What each kind needs besides --good and --bad. */
const NEEDS = {
  mean: "--spread, of the logarithm, or --deviation",
  percentile: "--percentile and --spread",
  share: "--critical",
} as const;

const minutesOf = (text: string): number | undefined => {
  const reading = readQuantity(text, "time");
  return "fault" in reading ? undefined : Number(reading.value.nominal);
};

/** Minutes of --times: numbers with or without a unit, or a file of them, one a line or parted by commas; what begins with # is passed over. */
const readTimed = (figures: Figures): readonly number[] => {
  const words = figures.list("times");
  const timeOf = (text: string): number | undefined => (/^\d*\.?\d+$/.test(text) ? Number(text) : minutesOf(text));
  const [path] = words;
  const isFile = words.length === 1 && path !== undefined && timeOf(path) === undefined;
  const text = isFile ? readText(path) : words.join("\n");
  if (typeof text !== "string") {
    figures.faults.push(text);
    return [];
  }
  return text.split("\n").flatMap((line, index) =>
    line
      .replace(/#.*/, "")
      .split(",")
      .map((word) => word.trim())
      .filter((word) => word !== "")
      .flatMap((word) => {
        const time = timeOf(word);
        if (time !== undefined && time > 0) return [time];
        figures.fail("times", `${isFile ? `${path}:${index + 1} ` : ""}"${word}" is no time above 0`, "Write 42 min.");
        return [];
      }),
  );
};

const readRequirement = (figures: Figures, of: (typeof KINDS)[number]): Requirement | undefined => {
  const time = (flag: string): number | undefined => figures.quantity(flag, "time");
  const [good, bad] = of === "share" ? [figures.share("good"), figures.share("bad")] : [time("good"), time("bad")];
  const spread = figures.text("spread") === undefined ? undefined : Number(figures.text("spread"));
  const [deviation, critical, share] = [time("deviation"), time("critical"), figures.share("percentile")];
  const lacks = (): undefined => {
    figures.faults.push({
      what: `to demonstrate a ${of} takes --good, --bad and ${NEEDS[of]}`,
      mend:
        of === "share" ? "Write --critical 90min --good 5% --bad 15%." : "Write --good 40min --bad 80min --spread 0.6.",
    });
  };
  if (good === undefined || bad === undefined) return lacks();
  if (of === "share")
    return critical === undefined ? lacks() : { of, critical, good, bad, oneByOne: figures.has("one-by-one") };
  if (of === "percentile")
    return share === undefined || spread === undefined ? lacks() : { of, share, good, bad, spread };
  if (spread !== undefined) return { of, good, bad, spread };
  return deviation === undefined ? lacks() : { of, good, bad, deviation };
};

export function runDemonstrate(call: Call, terminal: Terminal): Exit {
  const figures = new Figures(call);
  const [word = ""] = call.operands;
  const of = KINDS.find((one) => one === word);
  if (of === undefined)
    return refuse([{ what: `nothing is demonstrated by its ${word}`, mend: mendWord(word, KINDS) }], terminal);
  const risks: Risks = { producer: figures.share("producer") ?? RISK, consumer: figures.share("consumer") ?? RISK };
  const required = readRequirement(figures, of);
  const timed = readTimed(figures);
  const fault = required === undefined ? undefined : unsound(required, risks);
  if (fault !== undefined) figures.faults.push({ what: fault, mend: "See unmoor demonstrate --help." });
  if (required === undefined || figures.faults.length > 0) return refuse(figures.faults, terminal);
  let found: Demonstrated;
  try {
    found = demonstrate(required, risks, timed);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refuse([{ what: error.message, mend: "Move good and bad apart, or bear more risk." }], terminal);
  }
  const document: DemonstrateDocument = { format: "unmoor/demonstrate/1", required, ...found };
  if (call.flags.has("json")) terminal.say(JSON.stringify(document, undefined, 2));
  else sayFolded(sayDemonstrated(required, found), terminal);
  return found.say === "reject" ? EXIT.not : EXIT.found;
}

const percent = (share: number): string => `${Number((share * 100).toFixed(1))} %`;
const minutes = (value: number): string => `${Number(value.toFixed(1))} min`;

const PLANS = {
  "1A": "plan 1A: the mean of lognormal times whose spread is known beforehand",
  "1B": "plan 1B: the mean, times of any kind",
  "2": "plan 2: a percentile of lognormal times",
  "3": "plan 3: by count, times of any kind",
  "one by one": "one repair after another, times of any kind (Wald 1947)",
} as const;

const sayRequired = (required: Requirement): string => {
  const { good, bad } = required;
  if (required.of === "share")
    return `Repairs above ${minutes(required.critical)}: ${percent(good)} of them is good, ${percent(bad)} bad`;
  const name = required.of === "mean" ? "Mean" : `${percent(required.share)} of repairs within`;
  return `${name}: ${minutes(good)} is good, ${minutes(bad)} bad`;
};

const sayHeld = ({ held, lines, timed, wanted, say }: Demonstrated): readonly string[] => {
  if (say === undefined)
    return wanted === undefined ? ["Nothing is timed yet."] : [`Time ${wanted} repairs; nothing is timed yet.`];
  const still = wanted === undefined ? 0 : Math.max(0, wanted - timed);
  const verdict = { accept: "ACCEPT", reject: "REJECT", "go on": "GO ON" }[say];
  const of =
    held === undefined
      ? ""
      : held.of === "repairs"
        ? `, ${held.value} of them above the critical time`
        : `; their ${held.of} ${minutes(held.value)}, and ${minutes(held.most)} may be`;
  return [
    `${verdict}  ${timed} timed${wanted === undefined ? "" : ` of ${wanted}`}${of}.`,
    ...(say === "go on" && still > 0 ? [`${still} more are to be timed.`] : []),
    ...(lines !== undefined && say === "go on"
      ? [
          `After ${lines.after} repairs it is ${lines.acceptAt < 0 ? "too early to accept" : `accepted with ${lines.acceptAt} or fewer above the critical time`}, and rejected with ${lines.rejectAt} or more.`,
        ]
      : []),
    ...(lines !== undefined && say !== "go on" ? [`It was decided after repair ${lines.after}.`] : []),
  ];
};

const sayDemonstrated = (required: Requirement, found: Demonstrated): string => {
  const { producer, consumer } = found.risks;
  return [
    `${sayRequired(required)}.`,
    `MIL-STD-471A / MIL-HDBK-470A appendix B, ${PLANS[found.plan]}.`,
    "",
    ...sayHeld(found),
    "",
    found.plan === "one by one"
      ? `Risks: a good design is rejected in ${percent(producer)}, a bad one accepted in ${percent(consumer)}; together they are no more than that.`
      : `Risks: a good design is rejected in ${percent(producer)}, a bad one accepted in ${percent(consumer)}.`,
    "A repair is timed as it comes, in its order, and none is left out; the plan is chosen before the first is timed.",
  ].join("\n");
};

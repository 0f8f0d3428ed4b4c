// Owns the command `times`: a first time out of the catalogue or by hand, with its percentiles and where it comes from.

import {
  ACCESS,
  CATALOGUE_SPREAD,
  FASTENERS,
  type Fault,
  fromNumber,
  fromThree,
  guess,
  HANDLING,
  type Lognormal,
  meanOf,
  percentileOf,
  TOOLS,
} from "../times/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { TimesDocument } from "./times-documents.ts";

const percentiles = (time: Lognormal) => ({
  p5: percentileOf(time, 0.05),
  p50: percentileOf(time, 0.5),
  p90: percentileOf(time, 0.9),
  p95: percentileOf(time, 0.95),
});

const say = (name: string, time: Lognormal): string =>
  `${name.padEnd(8)} ${Object.values(percentiles(time))
    .map((minutes) => minutes.toFixed(1).padStart(8))
    .join("")}`;

const HEAD = "min            P5     P50     P90     P95";

const faultsOf = (faults: readonly Fault[]) => faults.map(({ at, what, mend }) => ({ what: `${at}: ${what}`, mend }));

export function runTimes(call: Call, terminal: Terminal): Exit {
  const figures = new Figures(call);
  const [kind] = call.operands;
  const json = call.flags.has("json");
  if (figures.has("minutes") || figures.has("three")) return byHand(figures, json, terminal);
  if (kind === undefined) {
    if (json) return refuse([{ what: "times --json needs a kind", mend: "Write unmoor times hose --json." }], terminal);
    terminal.say(sayCatalogue());
    return EXIT.found;
  }
  const word = (flag: "fastener" | "access" | "tool") => {
    const text = figures.text(flag);
    return text === undefined ? {} : { [flag]: text };
  };
  const number = (flag: "count" | "size") => {
    const text = figures.text(flag);
    return text === undefined ? {} : { [flag]: Number(text) };
  };
  const made = guess({
    kind,
    ...word("fastener"),
    ...number("count"),
    ...number("size"),
    ...word("access"),
    ...word("tool"),
  });
  if (!("off" in made)) return refuse(faultsOf(made), terminal);
  if (json) {
    const document: TimesDocument = {
      format: "unmoor/times/1",
      off: percentiles(made.off),
      on: percentiles(made.on),
      spread: CATALOGUE_SPREAD,
      made: made.made,
    };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else
    terminal.say(
      [
        HEAD,
        say("off", made.off),
        say("on", made.on),
        "",
        "Made of (min off, min on)",
        ...made.made.map(
          ({ what, off, on, origin }) =>
            `  ${what.padEnd(26)} ${off.toFixed(2).padStart(6)} ${on.toFixed(2).padStart(6)}  ${origin.source}`,
        ),
        "",
        `Spread ${CATALOGUE_SPREAD} of the logarithm (ours). A first guess: the shop's own runs replace it (unmoor learn).`,
      ].join("\n"),
    );
  return EXIT.found;
}

function byHand(figures: Figures, json: boolean, terminal: Terminal): Exit {
  const three = figures.list("three").map(Number);
  const [least = Number.NaN, likely = Number.NaN, most = Number.NaN] = three;
  if (figures.has("three") && (three.length !== 3 || three.some((one) => !Number.isFinite(one))))
    return refuse(
      [{ what: `--three ${figures.list("three").join(",")} is not three times`, mend: "Write --three 12,18,36." }],
      terminal,
    );
  const time = figures.has("three") ? fromThree({ least, likely, most }) : fromNumber(Number(figures.text("minutes")));
  if ("mend" in time) return refuse(faultsOf([time]), terminal);
  const document: TimesDocument = {
    format: "unmoor/times/1",
    time: percentiles(time),
    mean: meanOf(time),
    spread: time.spread,
    made: [],
  };
  terminal.say(
    json
      ? JSON.stringify(document, undefined, 2)
      : [
          HEAD,
          say("time", time),
          "",
          `Mean ${meanOf(time).toFixed(2)} min, spread ${time.spread.toFixed(3)} of the logarithm.`,
        ].join("\n"),
  );
  return EXIT.found;
}

function sayCatalogue(): string {
  return [
    "Fasteners, one at a bench      off     on   (min)",
    ...FASTENERS.map(
      ({ id, off, on, origin }) =>
        `  ${id.padEnd(22)} ${off.toFixed(2).padStart(8)} ${on.toFixed(2).padStart(6)}   ${origin.source}`,
    ),
    "",
    "Handling of a connection besides",
    ...HANDLING.map(
      ({ id, off, on, origin }) =>
        `  ${id.padEnd(22)} ${off.toFixed(2).padStart(8)} ${on.toFixed(2).padStart(6)}   ${origin.source}`,
    ),
    "",
    "Access and tool, times",
    ...[...ACCESS, ...TOOLS].map(
      ({ id, times, text, origin }) =>
        `  ${id.padEnd(22)} ${times.toFixed(1).padStart(8)}          ${origin.source}: ${text}`,
    ),
  ].join("\n");
}

// Owns the command `pattern`: the order of tightening and its passes, for a layout given by hand or a joint of a file.

import { type Bolt, drawPattern, type Layout, layPattern, type Pattern, type Style } from "../fastening/index.ts";
import { jointOf } from "../plan/index.ts";
import { readQuantity } from "../quantity/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { PatternDocument } from "./fastening-documents.ts";
import { Figures, readShare } from "./figures.ts";
import { takeVehicle } from "./files.ts";
import { refuse } from "./release.ts";
import { fill, type Terminal } from "./terminal.ts";
import { placed } from "./torque-question.ts";
import { mendWord } from "./words.ts";

/** The words for a style: those of this command, and those that vehicle files use. */
const STYLE_WORDS: ReadonlyMap<string, Style> = new Map([
  ["cross", "cross"],
  ["star", "cross"],
  ["centre-outwards", "centre outwards"],
  ["centre outwards", "centre outwards"],
  ["spiral", "centre outwards"],
  ["balanced", "balanced"],
]);

export async function runPattern(call: Call, terminal: Terminal): Promise<Exit> {
  const figures = new Figures(call);
  const [path] = call.operands;
  const assumed: string[] = [];
  let layout = layoutOf(figures);
  let torque = figures.quantity("torque", "torque");
  let style = styleOf(figures, figures.text("style"));
  let title = "Pattern";
  if (path !== undefined) {
    const taken = await takeVehicle(path, terminal, call.flags.has("json"));
    if (typeof taken === "number") return taken;
    const { vehicle } = taken;
    const id = figures.text("joint") ?? "";
    const connection = vehicle.connections.find((one) => one.id === id);
    if (connection === undefined)
      figures.fail(
        "joint",
        `there is no connection called "${id}"`,
        mendWord(
          id,
          vehicle.connections.map((one) => one.id),
        ),
      );
    else {
      title = connection.label;
      const reading = jointOf(vehicle, connection);
      if (!("joint" in reading)) figures.faults.push(reading);
      else {
        torque ??= "torque" in reading.joint.aim ? reading.joint.aim.torque : undefined;
        style ??= reading.pattern === undefined ? undefined : STYLE_WORDS.get(reading.pattern);
        if (layout === undefined) {
          layout = { circle: reading.count };
          assumed.push(`${reading.count} bolts evenly on a circle: the file does not say where they are (--bolt does)`);
        }
      }
    }
  }
  const shares = figures.list("shares").map((text) => readShare(text) ?? Number.NaN);
  const turns = figures.list("turn").map((text) => figures.degrees("turn", text) ?? Number.NaN);
  if (layout === undefined && figures.faults.length === 0)
    figures.faults.push({
      what: "there is no layout to tighten",
      mend: "Give --circle 8, --grid 2x5, --line 6, several --bolt, or FILE --joint ID.",
    });
  if (layout === undefined || figures.faults.length > 0) return refuse(figures.faults, terminal);
  const answer = layPattern({
    layout,
    ...(style === undefined ? {} : { style }),
    ...(torque === undefined ? {} : { torque }),
    ...(shares.length === 0 ? {} : { shares }),
    ...(turns.length === 0 ? {} : { turns }),
  });
  if ("faults" in answer) return refuse(answer.faults.map(placed), terminal);
  const svg = drawPattern(answer.answer, title);
  if (call.flags.has("json")) {
    const document: PatternDocument = { format: "unmoor/pattern/1", ...answer.answer, svg, assumed };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else terminal.say(call.flags.has("svg") ? svg.trimEnd() : sayPattern(title, answer.answer, assumed, terminal));
  return EXIT.found;
}

function layoutOf(figures: Figures): Layout | undefined {
  const given = ["circle", "grid", "line", "bolt"].filter((flag) => figures.has(flag));
  if (given.length > 1)
    return figures.fail(given[1] as string, `--${given[0]} is a layout already`, "Give one layout.");
  const circle = figures.count("circle");
  if (circle !== undefined) return { circle };
  const line = figures.count("line");
  if (line !== undefined) return { line };
  const grid = figures.text("grid");
  if (grid !== undefined) {
    const match = /^\s*(\d+)\s*[x×]\s*(\d+)\s*$/.exec(grid);
    if (match === null) return figures.fail("grid", `"${grid}" is no rectangle`, "Write rows and columns: 2x5.");
    return { rows: Number(match[1]), columns: Number(match[2]), hollow: figures.has("hollow") };
  }
  if (!figures.has("bolt")) return undefined;
  return { bolts: figures.list("bolt").flatMap((text): Bolt[] => readBolt(figures, text) ?? []) };
}

/** "c1 0mm 60mm": a name and two lengths. */
function readBolt(figures: Figures, text: string): Bolt[] | undefined {
  const [id, x, y, more] = text.trim().split(/\s+/);
  if (id === undefined || x === undefined || y === undefined || more !== undefined)
    return figures.fail(
      "bolt",
      `"${text}" is no bolt with its place`,
      'Write --bolt "c1 0mm 60mm": a name, then x to the right and y up.',
    );
  const [right, up] = [readQuantity(x, "length"), readQuantity(y, "length")];
  for (const one of [right, up]) if ("fault" in one) return figures.fail("bolt", one.fault.what, one.fault.mend);
  if ("fault" in right || "fault" in up) return undefined;
  return [{ id, x: right.value.nominal, y: up.value.nominal }];
}

function styleOf(figures: Figures, word: string | undefined): Style | undefined {
  if (word === undefined) return undefined;
  return (
    STYLE_WORDS.get(word) ??
    figures.fail("style", `"${word}" is no style known here`, mendWord(word, [...STYLE_WORDS.keys()]))
  );
}

function sayPattern(
  title: string,
  { style, bolts, passes, loosening }: Pattern,
  assumed: readonly string[],
  { ink, width }: Terminal,
): string {
  const names = (order: readonly string[]) => fill(order, width - 4).map((line) => `    ${line}`);
  let told = "";
  const said = passes.flatMap(({ by, share, torque, degrees, order }) => {
    const at =
      by === "hand"
        ? "by hand, until all sit"
        : by === "angle"
          ? `turn each on by ${degrees}°`
          : `${torque === undefined ? `${Math.round((share ?? 1) * 100)} %` : `${Number(torque.toPrecision(3))} N·m`}${by === "round" ? ", round and round until nothing turns" : ""}`;
    const line = order.join(" ");
    const same = line === told;
    told = line;
    return [`  ${at}${same ? ", in the same order" : ":"}`, ...(same ? [] : names(order))];
  });
  return [
    ink.strong(`${title}: ${bolts.length} bolts, ${style}`),
    ...said,
    "  Mark each bolt with paint when it has its torque (common practice).",
    "  To loosen:",
    ...names(loosening),
    ...assumed.map((one) => `  assumed: ${one}.`),
  ].join("\n");
}

// Owns the command `pattern`: the order of tightening and its passes, for a layout given by hand or a joint of a file.

import {
  type Bolt,
  drawPattern,
  type Layout,
  layPattern,
  type Pattern,
  readStyle,
  type Style,
  tighten,
} from "../fastening/index.ts";
import { jointOf, layoutOf } from "../plan/index.ts";
import { type NewtonMetres, readQuantity } from "../quantity/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { PatternDocument } from "./fastening-documents.ts";
import { Figures, readShare } from "./figures.ts";
import { takeVehicle } from "./files.ts";
import { refuse } from "./release.ts";
import { fill, type Terminal } from "./terminal.ts";
import { placed } from "./torque-question.ts";
import { mendWord } from "./words.ts";

export async function runPattern(call: Call, terminal: Terminal): Promise<Exit> {
  const figures = new Figures(call);
  const [path] = call.operands;
  const joint = path === undefined ? {} : await jointAsked(path, figures, call, terminal);
  if (typeof joint === "number") return joint;
  const assumed = [...(joint.assumed ?? [])];
  const given = givenLayout(figures);
  const layout = given ?? joint.layout;
  if (given === undefined && joint.guessed !== undefined) assumed.push(joint.guessed);
  const torque = figures.quantity("torque", "torque") ?? joint.torque;
  const style = styleOf(figures) ?? joint.style;
  const shares = figures.has("shares")
    ? figures.list("shares").map((text) => readShare(text) ?? Number.NaN)
    : (joint.shares ?? []);
  const turns = figures.has("turn")
    ? figures.list("turn").map((text) => figures.degrees("turn", text) ?? Number.NaN)
    : (joint.turns ?? []);
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
  const title = joint.title ?? "Pattern";
  const items = given === undefined ? joint.items : undefined;
  const svg = drawPattern(answer.answer, title, items);
  if (call.flags.has("json")) {
    const holes = items === undefined || items.size === 0 ? {} : { items: Object.fromEntries(items) };
    const document: PatternDocument = { format: "unmoor/pattern/1", ...answer.answer, ...holes, svg, assumed };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else
    terminal.say(call.flags.has("svg") ? svg.trimEnd() : sayPattern(title, answer.answer, assumed, items, terminal));
  return EXIT.found;
}

/** What a file says of the joint that is asked for. */
interface Asked {
  readonly title?: string;
  readonly layout?: Layout;
  readonly guessed?: string;
  readonly style?: Style;
  readonly torque?: NewtonMetres;
  readonly shares?: readonly number[];
  readonly turns?: readonly number[];
  readonly items?: ReadonlyMap<string, string>;
  readonly assumed?: readonly string[];
}

async function jointAsked(path: string, figures: Figures, call: Call, terminal: Terminal): Promise<Asked | Exit> {
  const taken = await takeVehicle(path, terminal, call.flags.has("json"));
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const id = figures.text("joint");
  const known = vehicle.connections.map((one) => one.id);
  const connection = vehicle.connections.find((one) => one.id === id);
  if (connection === undefined) {
    if (id === undefined)
      figures.faults.push({
        what: "no joint of the file is asked for",
        mend: "Write --joint and the id of its connection.",
      });
    else figures.fail("joint", `there is no connection called "${id}"`, mendWord(id, known));
    return {};
  }
  const reading = jointOf(vehicle, connection);
  if (!("joint" in reading)) {
    figures.faults.push(reading);
    return {};
  }
  const answer = tighten(reading.joint);
  const torque = "answer" in answer ? answer.answer : undefined;
  const words = reading.refit.pattern === undefined ? undefined : readStyle(reading.refit.pattern);
  const { stages = [], turn } = reading.refit;
  const full = stages.at(-1);
  const shares = full === undefined ? words?.shares : stages.map((stage) => stage / full);
  const where = layoutOf(connection);
  const foreign = words !== undefined && !(words.plain && words.style !== undefined);
  // A made-up circle would contradict the words.
  if (where === undefined && (foreign || words?.style === "centre outwards") && givenLayout(figures) === undefined)
    figures.faults.push({
      what: `the file tightens ${id} "${reading.refit.pattern}" and does not say where its bolts are`,
      mend: "Write its layout in the file (2 x 5, or places), or give --grid, --line or --bolt.",
    });
  return {
    title: connection.label,
    layout: where ?? { circle: reading.count },
    ...(where === undefined
      ? {
          guessed: `${reading.count} bolts evenly on a circle: the file does not say where they are (layout, or --bolt, does)`,
        }
      : {}),
    ...(words?.style === undefined ? {} : { style: words.style }),
    ...(torque === undefined ? {} : { torque: torque.torque }),
    ...(shares === undefined ? {} : { shares }),
    ...(turn === undefined ? {} : { turns: [Number(((turn * 180) / Math.PI).toFixed(6))] }),
    items: new Map(connection.hardware.flatMap(({ item, holes = [] }) => holes.map((hole) => [hole, item] as const))),
    assumed: [
      ...(foreign ? [`the file says "${reading.refit.pattern}", which is no plain order: follow its words`] : []),
      ...(torque?.proposal === true ? [`the file gives no torque; proposed: ${torque.by}. Ask the maker's book`] : []),
    ],
  };
}

function givenLayout(figures: Figures): Layout | undefined {
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

function styleOf(figures: Figures): Style | undefined {
  const word = figures.text("style");
  if (word === undefined) return undefined;
  const { style } = readStyle(word.replaceAll("-", " "));
  return (
    style ??
    figures.fail("style", `"${word}" is no style known here`, mendWord(word, ["cross", "centre-outwards", "balanced"]))
  );
}

function sayPattern(
  title: string,
  { style, bolts, passes, loosening }: Pattern,
  assumed: readonly string[],
  items: ReadonlyMap<string, string> | undefined,
  { ink, width }: Terminal,
): string {
  const kinds = [...new Set(items?.values() ?? [])];
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
    ...kinds.map(
      (kind) =>
        `  ${kind} at ${[...(items ?? [])].flatMap(([place, item]) => (item === kind ? [place] : [])).join(", ")}`,
    ),
    "  Mark each bolt with paint when it has its torque (common practice).",
    "  To loosen:",
    ...names(loosening),
    ...assumed.map((one) => `  assumed: ${one}.`),
  ].join("\n");
}

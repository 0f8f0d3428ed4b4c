// Owns the scoring of drafts against the annotated narrations: connections found, kinds, positions, counts, order, remarks.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { draftVehicle, type Tie } from "../../src/draft/index.ts";

/** What a narration tells: label, kind, position (null: none said), count. */
interface Gold {
  readonly connections: readonly (readonly [string, string, string | null, number | null])[];
  /** Rules of the remarks that its omissions must raise. */
  readonly omissions: readonly string[];
}

export interface Score {
  readonly name: string;
  readonly gold: number;
  readonly drafted: number;
  readonly found: number;
  readonly kind: number;
  readonly position: number;
  readonly count: number;
  readonly agreeing: number;
  readonly pairs: number;
  readonly planted: number;
  readonly noticed: number;
  readonly falseAlarms: number;
  readonly wrong: readonly string[];
}

/** The narrations that come with the product. */
export const NARRATIONS = fileURLToPath(new URL("../../demo/narrations/", import.meta.url));

/** The narrations of a folder that have an annotation, by name. */
export const narrations = (folder = NARRATIONS): string[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith(".gold.json"))
    .map((name) => name.replace(".gold.json", ""))
    .sort();

const words = (text: string): Set<string> =>
  new Set(
    text
      .toLowerCase()
      .split(/[^\p{L}\p{N}]+/u)
      .map((word) => word.replace(/(?<=[^s])s$/, ""))
      .filter((word) => word !== "" && !["the", "on", "to", "from", "near"].includes(word)),
  );

/** How alike two labels are: shared words over the shorter, a little for the same position. */
function alike(tie: Tie, label: string, position: string | null): number {
  const a = words(tie.label);
  const b = words(label);
  const common = [...a].filter((word) => b.has(word)).length;
  const share = common / Math.max(1, Math.min(a.size, b.size));
  return share < 0.5 ? 0 : share + common / 10 + ((tie.at ?? null) === position ? 0.3 : 0);
}

export function scoreNarration(name: string, folder = NARRATIONS): Score {
  const file = readdirSync(folder).find((one) => one.startsWith(`${name}.`) && !one.endsWith(".json")) ?? name;
  const gold = JSON.parse(readFileSync(join(folder, `${name}.gold.json`), "utf8")) as Gold;
  const draft = draftVehicle([{ file, text: readFileSync(join(folder, file), "utf8") }]);
  const ties = "told" in draft ? draft.told.ties : [];
  const remarks = "told" in draft ? draft.remarks : [];
  const wrong: string[] = [];
  const pairs = gold.connections
    .flatMap(([label, , position], g) => ties.map((tie, t) => ({ g, t, value: alike(tie, label, position) })))
    .filter(({ value }) => value > 0)
    .sort((a, b) => b.value - a.value || Math.abs(a.g - a.t) - Math.abs(b.g - b.t));
  const matched = new Map<number, number>();
  const used = new Set<number>();
  for (const { g, t } of pairs)
    if (!matched.has(g) && !used.has(t)) {
      matched.set(g, t);
      used.add(t);
    }
  let kind = 0;
  let position = 0;
  let count = 0;
  gold.connections.forEach(([label, wantedKind, at, many], g) => {
    const tie = ties[matched.get(g) ?? -1];
    if (tie === undefined) {
      wrong.push(`missed: ${label}`);
      return;
    }
    const check = (right: boolean, what: string): number => {
      if (!right) wrong.push(`${label}: ${what}`);
      return right ? 1 : 0;
    };
    kind += check(tie.kind === wantedKind, `${tie.kind}, not ${wantedKind}`);
    position += check((tie.at ?? null) === at, `at ${tie.at}, not ${at}`);
    count += check((tie.count ?? null) === many, `count ${tie.count}, not ${many}`);
  });
  ties.forEach((tie, t) => {
    if (!used.has(t)) wrong.push(`not there: ${tie.label} (${tie.kind}, ${tie.at})`);
  });
  const order = [...matched].sort((a, b) => a[0] - b[0]).map(([, t]) => t);
  let agreeing = 0;
  let all = 0;
  order.forEach((a, i) => {
    for (const b of order.slice(i + 1)) {
      all += 1;
      if (a < b) agreeing += 1;
    }
  });
  const raised = remarks.map(({ rule }) => rule as string);
  const left = [...raised];
  let noticed = 0;
  for (const rule of gold.omissions) {
    const at = left.indexOf(rule);
    if (at >= 0) {
      left.splice(at, 1);
      noticed += 1;
    } else wrong.push(`unnoticed: ${rule}`);
  }
  for (const rule of left) wrong.push(`false alarm: ${rule}`);
  return {
    name,
    gold: gold.connections.length,
    drafted: ties.length,
    found: matched.size,
    kind,
    position,
    count,
    agreeing,
    pairs: all,
    planted: gold.omissions.length,
    noticed,
    falseAlarms: left.length,
    wrong,
  };
}

/** The figures of the aims, over all of these. */
export function aims(scores: readonly Score[]): Readonly<Record<string, number>> {
  const sum = (of: (score: Score) => number) => scores.reduce((all, score) => all + of(score), 0);
  const found = sum((one) => one.found);
  const share = (a: number, b: number) => (b === 0 ? 1 : Math.round((a / b) * 1000) / 1000);
  return {
    precision: share(
      found,
      sum((one) => one.drafted),
    ),
    recall: share(
      found,
      sum((one) => one.gold),
    ),
    kind: share(
      sum((one) => one.kind),
      found,
    ),
    position: share(
      sum((one) => one.position),
      found,
    ),
    count: share(
      sum((one) => one.count),
      found,
    ),
    tau: share(
      2 * sum((one) => one.agreeing) - sum((one) => one.pairs),
      sum((one) => one.pairs),
    ),
    omissions: share(
      sum((one) => one.noticed),
      sum((one) => one.planted),
    ),
    falseAlarmsPerTen: share(
      10 * sum((one) => one.falseAlarms),
      sum((one) => one.drafted),
    ),
  };
}

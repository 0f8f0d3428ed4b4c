// Owns a mixed-integer linear model as text in the LP format, and its solving by HiGHS.

import highs, { type Highs, type Model } from "highs";

// The package has one declaration for both its builds: it speaks of the CommonJS one, where the loader is `default`, and the ES module is the loader.
const load = highs as unknown as typeof highs.default;

/** A linear expression: coefficient and column in turn, and what is added. */
export interface Sum {
  readonly terms: readonly (readonly [number, number])[];
  readonly constant: number;
}

export const constant = (value: number): Sum => ({ terms: [], constant: value });
const column = (index: number, coefficient = 1): Sum => ({ terms: [[coefficient, index]], constant: 0 });
export const add = (...sums: readonly Sum[]): Sum => ({
  terms: sums.flatMap((each) => each.terms),
  constant: sums.reduce((total, each) => total + each.constant, 0),
});
export const times = (factor: number, sum: Sum): Sum => ({
  terms: sum.terms.map(([coefficient, index]) => [factor * coefficient, index]),
  constant: factor * sum.constant,
});
export const not = (sum: Sum): Sum => add(constant(1), times(-1, sum));

/** What HiGHS says of a model. `values` is empty when it has none; `bound` holds for every answer. */
export interface Answer {
  readonly status: "optimal" | "infeasible" | "stopped";
  readonly objective: number;
  readonly bound: number;
  readonly values: Float64Array;
  /** Milliseconds of the solve alone: reading the text is not counted. */
  readonly ms: number;
}

/** A model to be minimised; columns are numbered as they are made. */
export class Lp {
  private readonly costs: number[] = [];
  private readonly bounds: string[] = [];
  private readonly whole: string[] = [];
  private readonly rows: string[] = [];

  get columns(): number {
    return this.costs.length;
  }

  get rowCount(): number {
    return this.rows.length;
  }

  /** A column that is 0 or 1. */
  binary(cost = 0): Sum {
    this.whole.push(`x${this.costs.length}`);
    return column(this.costs.push(cost) - 1);
  }

  /** A column from 0 to `upper`, not necessarily whole. */
  continuous(upper: number, cost = 0): Sum {
    this.bounds.push(`0 <= x${this.costs.length} <= ${upper}`);
    return column(this.costs.push(cost) - 1);
  }

  atMost(left: Sum, right: Sum): void {
    this.row(add(left, times(-1, right)), "<=");
  }

  equal(left: Sum, right: Sum): void {
    this.row(add(left, times(-1, right)), "=");
  }

  /** The model as text. Every column stands in the objective, so that columns are read back in their order. */
  text(): string {
    const objective = this.costs.map((cost, index) => term(cost, index));
    return [
      "minimize",
      `obj: ${objective.length === 0 ? "0 x0" : wrap(objective)}`,
      "subject to",
      ...this.rows,
      "bounds",
      ...this.bounds,
      "binary",
      wrap(this.whole),
      "end",
      "",
    ].join("\n");
  }

  private row(sum: Sum, sense: "<=" | "="): void {
    const merged = new Map<number, number>();
    for (const [coefficient, index] of sum.terms) merged.set(index, (merged.get(index) ?? 0) + coefficient);
    const terms = [...merged]
      .filter(([, coefficient]) => coefficient !== 0)
      .map(([index, coefficient]) => term(coefficient, index));
    const right = 0 - sum.constant;
    if (terms.length === 0) {
      // A row of constants says nothing when it holds; when it does not, the model has no answer.
      if (sense === "<=" ? right >= 0 : right === 0) return;
      this.rows.push(`r${this.rows.length}: ${term(1, this.impossible())} >= 2`);
      return;
    }
    this.rows.push(`r${this.rows.length}: ${wrap(terms)} ${sense} ${right}`);
  }

  private impossible(): number {
    return (this.binary().terms[0] as readonly [number, number])[1];
  }
}

const term = (coefficient: number, index: number): string =>
  `${coefficient < 0 ? "-" : "+"} ${Math.abs(coefficient)} x${index}`;

/** LP readers dislike long lines. */
function wrap(words: readonly string[]): string {
  const lines: string[] = [];
  for (let start = 0; start < words.length; start += 8) lines.push(words.slice(start, start + 8).join(" "));
  return lines.join("\n ");
}

let loaded: Promise<Highs> | undefined;

/** HiGHS, loaded once. */
export function loadHighs(): Promise<Highs> {
  loaded ??= load();
  return loaded;
}

/**
 * Solves to a gap of 0, or stops after so many seconds. HiGHS 1.15.1's presolve was seen to call a small model infeasible that has an answer (the
 * "groups" model of randomProblem(297)), so "infeasible" is believed only when it says so without presolve as well.
 */
export function solveLp(highs: Highs, lp: Lp, seconds = Number.POSITIVE_INFINITY): Answer {
  const answer = run(highs, lp, seconds, "choose");
  return answer.status === "infeasible" ? run(highs, lp, seconds, "off") : answer;
}

function run(highs: Highs, lp: Lp, seconds: number, presolve: "choose" | "off"): Answer {
  return highs.withModel((model: Model): Answer => {
    model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0, presolve });
    if (Number.isFinite(seconds)) model.options.set("time_limit", seconds);
    model.readModel({ format: "lp", data: lp.text() });
    const start = performance.now();
    model.run();
    const ms = performance.now() - start;
    const { modelStatus } = highs.constants;
    const code = model.getModelStatus();
    const none = { objective: Number.POSITIVE_INFINITY, values: new Float64Array(), ms };
    if (code === modelStatus.infeasible) return { ...none, status: "infeasible", bound: Number.POSITIVE_INFINITY };
    const bound = Number(model.info.get("mip_dual_bound"));
    const status = code === modelStatus.optimal ? "optimal" : "stopped";
    if (Number(model.info.get("primal_solution_status")) !== 2) return { ...none, status, bound };
    return {
      status,
      bound,
      objective: model.getObjectiveValue(),
      values: Float64Array.from(model.getSolution().colValue),
      ms,
    };
  });
}

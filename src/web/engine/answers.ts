// Owns what the questions about a model and its plan are answered with: what the file says, what comes off, why, and what else.

import { describeAlternative, describeReason, labelOf, type Question, whileItIsOut } from "../../plan/index.ts";
import { choiceOf, edgeParts, reasonFor } from "../../release/index.ts";
import { patient } from "./bench.ts";
import type { Answers } from "./thread.ts";

/** For what is asked beside a plan, each. */
const BESIDE = { milliseconds: 10_000 };

const beside = () => ({ ...patient(), ...BESIDE });

export const ANSWERS: Pick<Answers, "read" | "release" | "why" | "others" | "edge"> = {
  async read(bench) {
    const { vehicle, faults, warnings, place, gaps } = await bench.read();
    const ids =
      vehicle === undefined
        ? []
        : [vehicle.parts, vehicle.connections, vehicle.tasks, vehicle.positions, vehicle.jobs, vehicle.hoists].flatMap(
            (list) => list.map(({ id }) => id),
          );
    const places = ids.flatMap((id) => {
      const at = place(id);
      return at === undefined ? [] : [[id, at] as const];
    });
    return {
      ...(vehicle === undefined ? {} : { vehicle }),
      faults,
      warnings,
      places: Object.fromEntries(places),
      gaps,
    };
  },
  async release(bench, { order }) {
    const { question, answer, ms } = await bench.release(order);
    if (answer === undefined) return { faults: question.faults, ms, labour: {} };
    const { result, plan, conflict } = answer;
    const wayOf = new Map(question.problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way.labour])));
    const taskOf = new Map(question.problem.tasks.map((task) => [task.id, task.labour]));
    const labour = Object.fromEntries([
      ...(result.plan?.releases ?? []).map(({ id, way }) => [id, wayOf.get(way) ?? 0] as const),
      ...(result.plan?.tasks ?? []).map((id) => [id, taskOf.get(id) ?? 0] as const),
    ]);
    if (plan !== undefined) return { faults: [], plan, ms, labour };
    return {
      faults: [],
      ms,
      labour,
      none: {
        status: result.status,
        because: conflict?.rules.map(({ says }) => says) ?? [],
        bound: Number.isFinite(result.bound) ? result.bound : null,
      },
    };
  },
  async why(bench, { order, about }) {
    const { question, answer } = await bench.release(order);
    const plan = answer?.result.plan;
    if (plan === undefined) return { chain: [], ways: [] };
    const { without, ways } = choiceOf(question.problem, plan, about, beside());
    return {
      chain: reasonFor(question.problem, plan, about).map((reason) => ({
        ...describeReason(question, reason),
        label: labelOf(question, reason.step),
      })),
      ...(without === undefined ? {} : { without: describeAlternative(without) }),
      ways: ways.map(({ way, with: then }) => ({
        way,
        position: placeOf(question, way),
        then: describeAlternative(then),
      })),
    };
  },
  async others(bench, { order }) {
    const { question, answer } = await bench.release(order);
    return answer === undefined
      ? []
      : whileItIsOut(question, answer.result, { milliseconds: 2_000, now: patient().now });
  },
  async edge(bench, { order }) {
    const { question, answer } = await bench.release(order);
    const plan = answer?.result.plan;
    return plan === undefined ? [] : edgeParts(question.problem, plan, beside());
  },
};

/** What the place of a way, or of a task, is called. */
const placeOf = (question: Question, id: string): string => {
  const source = question.sources.get(id);
  const at = source?.kind === "way" ? source.way.at : source?.kind === "task" ? source.task.at : undefined;
  return at === undefined ? "" : labelOf(question, at);
};

// Owns the questions of a file: its "?", in the order of what their kind decides, as sentences, and the answers put in their place.

import type { Gap, Vehicle } from "../vehicle/index.ts";

export interface Question extends Gap {
  readonly text: string;
}

/** What an answer decides, the most first: whether it may hang, whether hands may take it, how it hangs, how long it takes, how it goes back. */
const WEIGHT: Readonly<Record<string, number>> = { mass: 60, centre: 40, count: 30, time: 25, torque: 15, amount: 5 };

/** The questions of a file in the order of their weight. A part's weighs more the more connections it has; of a joint, the more bear. */
export function questionsOf(vehicle: Vehicle, gaps: readonly Gap[]): Question[] {
  const weight = ({ of, key }: Gap): number => {
    const own = WEIGHT[key] ?? 1;
    const joined = vehicle.connections.filter(({ joins }) => joins.includes(of)).length;
    const connection = vehicle.connections.find(({ id }) => id === of);
    return own + (connection?.carrying ? 3 : 0) + Math.min(joined, 9);
  };
  return gaps
    .map((gap) => ({ ...gap, text: `${labelOf(vehicle, gap.of)}: ${gap.key}? ${gap.means}` }))
    .sort((a, b) => weight(b) - weight(a) || a.at.line - b.at.line || a.at.column - b.at.column);
}

/** The text of a file with an answer in the place of its "?"; nothing else of it is touched. */
export function answerGap(text: string, gap: Gap, answer: string): string | undefined {
  const lines = text.split("\n");
  const line = lines[gap.at.line - 1];
  if (line === undefined) return undefined;
  const at = gap.at.column - 1;
  if (line.slice(at, at + 3) !== '"?"' && line.slice(at, at + 3) !== "'?'") return undefined;
  lines[gap.at.line - 1] = `${line.slice(0, at)}${answer}${line.slice(at + 3)}`;
  return lines.join("\n");
}

function labelOf(vehicle: Vehicle, id: string): string {
  return (
    [...vehicle.parts, ...vehicle.connections, ...vehicle.tasks, ...vehicle.positions].find((one) => one.id === id)
      ?.label ?? id
  );
}

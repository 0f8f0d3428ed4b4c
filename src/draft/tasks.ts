// Owns the tasks as they are told: drain, raise, sling, support.

import type { Chunk } from "./chunk.ts";
import type { Memory } from "./memory.ts";
import { capital } from "./names.ts";

export function tellTask(m: Memory, does: string, chunk: Chunk): void {
  if (does === "catch" || does === "mark" || does === "plug" || does === "lower" || does === "back" || does === "fill")
    return;
  const source = m.source(chunk.from, Math.min(chunk.to + 6, m.words.length));
  if (does === "ready") {
    m.told.closings.push({ after: m.told.ties.length, final: true, source });
    return;
  }
  let fluid: string | undefined;
  let amount: string | undefined;
  for (let k = chunk.from; k < chunk.to + 7 && k < m.words.length; k += 1) {
    if (k > chunk.from && (m.words[k]?.pause ?? 0) >= 2) break;
    fluid ??= m.language.fluids.at(m.words, k)?.value;
    if (does === "drain" && /^\d+(\.\d+)?$/.test(m.words[k]?.text ?? "")) {
      const unit = m.language.volumes.at(m.words, k + 1);
      if (unit !== undefined) amount = `${m.words[k]?.text} ${unit.value}`;
    }
  }
  const same = m.told.tasks.find((one) => one.does === does && (one.fluid === fluid || fluid === undefined));
  if (same !== undefined) {
    same.sources.push(source);
    return;
  }
  const label =
    does === "drain"
      ? `Drain the ${fluid ?? "fluid"}`
      : does === "vent"
        ? `Let the pressure out${fluid === undefined ? "" : ` of the ${fluid}`}`
        : ({
            raise: "Raise the vehicle",
            support: "Take the weight from below",
            sling: "Take the weight on the hoist",
            lift: "Lift out",
            tilt: "Tilt the cab",
            chock: "Chock the wheels",
            bleed: "Bleed",
          }[does] ?? capital(does));
  m.told.tasks.push({
    id: "",
    does,
    label,
    ...(fluid === undefined ? {} : { fluid }),
    ...(amount === undefined ? {} : { amount }),
    ...(m.here === undefined || does === "raise" || does === "lift" ? {} : { at: m.here.id }),
    after: m.told.ties.length,
    sources: [source],
  });
}

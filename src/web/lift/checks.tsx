// Owns every check of a lift: which passed on which figures, from which source; never more than that.

import { padOf } from "../../plan/index.ts";
import type { Check } from "../../rigging/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";

/** What needs a person first. */
const ORDER: Readonly<Record<Check["verdict"], number>> = { fails: 0, attention: 1, "not checked": 2, passes: 3 };

export const Checks = ({ checks }: { readonly checks: readonly Check[] }) => {
  const words = useWords();
  const figures = useFigures();
  const sorted = checks.toSorted((a, b) => ORDER[a.verdict] - ORDER[b.verdict]);
  const value = ({ unit }: Check, figure: number) =>
    unit === "N"
      ? figures.measure(figure, "force")
      : unit === "°"
        ? figures.degrees(figure)
        : figures.measure(figure, "length");
  return (
    <section aria-labelledby="checks">
      <h2 id="checks">{words.lift.checks}</h2>
      <ul class="checks">
        {sorted.map((check) => {
          const { check: kind, at, gear, verdict, margin, limit, figures: how, source, assumed, mend } = check;
          return (
            <li key={`${kind} ${at} ${gear ?? ""}`}>
              <details open={verdict !== "passes"}>
                <summary>
                  <span class={`verdict ${verdict.replace(" ", "-")}`}>{words.lift.verdicts[verdict]}</span>
                  <span>
                    {words.lift.checkNames[kind]} {kind === "pad" ? padOf(at) : at}
                    {gear === undefined ? "" : `, ${gear}`}
                  </span>
                  <span class="spent" aria-hidden="true">
                    {margin === undefined || !Number.isFinite(margin) ? null : (
                      <i style={{ width: `${100 * Math.min(1, Math.max(0, 1 - margin))}%` }} />
                    )}
                  </span>
                  <small class="number">
                    {Number.isFinite(check.value) ? value(check, check.value) : "–"}
                    {limit === undefined ? "" : ` / ${value(check, limit)}`}
                  </small>
                </summary>
                <p>{how}</p>
                <p class="soft">
                  {assumed ? "≈ " : ""}
                  {words.lift.source(source)}
                </p>
                {mend === undefined ? null : <p>{mend}</p>}
              </details>
            </li>
          );
        })}
      </ul>
    </section>
  );
};

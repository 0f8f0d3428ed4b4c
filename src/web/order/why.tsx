// Owns why a step is in the plan, and what doing without it, or doing it another way, would cost.

import { useEffect, useState } from "preact/hooks";
import type { Otherwise } from "../engine/asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { useAnswer } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { usePlan } from "./use-plan.ts";

/** Milliseconds that something stays chosen before it is asked about: who goes down a list asks about the last, and no click waits for a thread to start. */
const STAYS = 150;

const useSettled = (about: string): string | undefined => {
  const [settled, setSettled] = useState<string>();
  useEffect(() => {
    const clock = setTimeout(() => setSettled(about), STAYS);
    return () => clearTimeout(clock);
  }, [about]);
  return settled === about ? about : undefined;
};

export const Why = ({ about }: { readonly about: string }) => {
  const words = useWords();
  const { order } = usePlan();
  const settled = useSettled(about);
  const why = useAnswer("why", order === undefined || settled === undefined ? undefined : { order, about: settled });
  const { data } = why;
  if (why.error !== null) return <p class="soft">{words.sheet.failed}</p>;
  if (data === undefined || why.isPlaceholderData) return <p class="busy soft">{words.sheet.computing}</p>;
  return (
    <div class="why">
      <h3>{words.order.why}</h3>
      {data.chain.length === 0 ? (
        <p class="soft">{words.order.noReason}</p>
      ) : (
        <ol>
          {data.chain.map(({ step, says }) => (
            <li key={step}>{says}</li>
          ))}
        </ol>
      )}
      <h3>{words.order.otherwise}</h3>
      <ul>
        {data.without === undefined ? null : (
          <li>
            {words.order.left}: <Cost then={data.without} />
          </li>
        )}
        {data.ways.map(({ way, position, then }) => (
          <li key={way}>
            {words.order.otherWay(position)}: <Cost then={then} />
          </li>
        ))}
      </ul>
      {data.without === undefined && data.ways.length === 0 ? <p class="soft">{words.order.noOther}</p> : null}
    </div>
  );
};

const Cost = ({ then }: { readonly then: Otherwise }) => {
  const words = useWords();
  const figures = useFigures();
  if (then.status === "infeasible") return <>{words.order.cannot}</>;
  if (then.more === undefined) return <>{words.order.notKnown}</>;
  return (
    <>
      {then.more >= 0 ? words.order.more(figures.minutes(then.more)) : words.order.less(figures.minutes(-then.more))}
      {then.status === "optimal" ? "" : ` ${words.order.atMost}`}
    </>
  );
};

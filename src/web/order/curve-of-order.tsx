// Owns how long the order takes with one person, two, three: asked when somebody wants to know.

import { useState } from "preact/hooks";
import { useAnswer } from "../shop/model.tsx";
import { Curve } from "../timeline/curve.tsx";
import { useWords } from "../words/words.ts";
import { usePlan } from "./use-plan.ts";

export const CurveOfOrder = () => {
  const words = useWords();
  const { order } = usePlan();
  const [isAsked, setAsked] = useState(false);
  const curve = useAnswer("curve", isAsked && order !== undefined ? { order } : undefined);
  return (
    <section aria-labelledby="curve" class={isAsked && curve.isFetching ? "busy" : ""}>
      <h2 id="curve">{words.order.curve}</h2>
      {!isAsked ? (
        <button type="button" onClick={() => setAsked(true)}>
          {words.order.askCurve}
        </button>
      ) : curve.data === undefined || curve.isPlaceholderData ? (
        <p class="soft">{words.sheet.computing}</p>
      ) : (
        <Curve said={curve.data} />
      )}
    </section>
  );
};

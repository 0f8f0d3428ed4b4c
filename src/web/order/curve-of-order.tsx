// Owns how long the order takes with one person, two, three.

import { Curve } from "../timeline/curve.tsx";
import { useWords } from "../words/words.ts";
import { AskedFor } from "./asked-for.tsx";
import { usePlan } from "./use-plan.ts";

export const CurveOfOrder = () => {
  const words = useWords();
  const { order } = usePlan();
  return (
    <AskedFor
      kind="curve"
      body={order === undefined ? undefined : { order }}
      title={words.order.curve}
      question={words.order.askCurve}
    >
      {(said) => <Curve said={said} />}
    </AskedFor>
  );
};

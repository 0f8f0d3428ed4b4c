// Owns how a joint in hand goes back on: what it is drawn up to, in which stages and order, and what is new.

import { lazy, Suspense } from "preact/compat";
import type { BriefJoint } from "../../ledger/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { chunkMissing } from "../sheet/renewed.ts";
import { useWords } from "../words/words.ts";
import { sayLimits } from "./say.ts";
import { useWork } from "./work.tsx";

const Pattern = lazy(() => import("./pattern.tsx").then((found) => found.Pattern).catch(chunkMissing));

export const HowBack = ({ joint: { id, torque, fresh } }: { readonly joint: BriefJoint }) => {
  const words = useWords();
  const figures = useFigures();
  const { plan } = useWork().book.kept;
  const step =
    torque === undefined
      ? undefined
      : plan.back.flatMap(({ steps }) => steps).find((one) => one.id === id && one.tightening !== undefined);
  const { stages = [], turn, fasteners = 0, order } = step?.tightening ?? {};
  return (
    <div class="how-back">
      <dl class="facts">
        {torque === undefined ? null : (
          <Fact name={words.hand.torque}>
            <b class="large">{figures.measure(torque.aim, "torque")}</b>
            {torque.proposal ? ` (${words.hand.proposal})` : <small> {sayLimits(torque, figures, words)}</small>}
          </Fact>
        )}
        {fresh.length === 0 ? null : <Fact name={words.hand.fresh}>{fresh.join(", ")}</Fact>}
      </dl>
      {step === undefined ? null : (
        <p>
          {words.hand.fasteners(fasteners)}
          {stages.length < 2 ? "" : `: ${stages.map((one) => figures.measure(one, "torque")).join(" → ")}`}
          {turn === undefined ? "" : `, ${words.hand.turnOn(figures.degrees(turn, 0))}`}
        </p>
      )}
      {step === undefined || order === undefined ? null : (
        // It has its room before it is drawn: what is tapped beneath it stays where it is.
        <div class="pattern">
          <Suspense fallback={null}>
            <Pattern step={step} order={order} fasteners={fasteners} />
          </Suspense>
        </div>
      )}
    </div>
  );
};

export const Fact = ({ name, children }: { readonly name: string; readonly children: preact.ComponentChildren }) => (
  <div>
    <dt>{name}</dt>
    <dd>{children}</dd>
  </div>
);

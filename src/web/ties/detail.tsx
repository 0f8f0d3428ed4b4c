// Owns what is known of one tie: what it joins, when it is undone, why, and what leaving it would cost.

import type { Plan } from "../../plan/index.ts";
import { Why } from "../order/why.tsx";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import type { Scene, Standing, Tie } from "./scene.ts";

interface DetailProps {
  readonly scene: Scene;
  readonly plan: Plan;
  readonly tie: Tie;
  readonly standing: Standing;
  readonly onClose: () => void;
  readonly onStep: (step: number) => void;
}

export const TieDetail = ({ scene, plan, tie, standing, onClose, onStep }: DetailProps) => {
  const words = useWords();
  const figures = useFigures();
  const step = scene.steps.find(({ number }) => number === tie.step);
  const name = (id: string) => plan.labels[id] ?? id;
  return (
    <section class="detail" aria-label={tie.label}>
      <header>
        <h2>{tie.label}</h2>
        <button type="button" class="plain" onClick={onClose}>
          {words.sheet.close}
        </button>
      </header>
      <p>
        {words.kinds[tie.kind]}, {words.ties.standing[standing]}; {words.ties.joins(tie.joins.map(name).join(" – "))}
        {tie.hidden ? `. ${words.ties.hidden}` : ""}
      </p>
      {step === undefined ? (
        <p class="soft">{words.ties.leftAlone}</p>
      ) : (
        <p>
          <button type="button" class="plain" onClick={() => onStep(step.number)}>
            {words.ties.atStep(step.number)}
          </button>{" "}
          {[figures.minutes(step.minutes), ...step.tools].join(", ")}
        </p>
      )}
      {step?.cautions.map(({ id, text }) => (
        <p key={id} class="notice">
          {text}
        </p>
      ))}
      {step === undefined ? null : <Why about={tie.id} />}
    </section>
  );
};

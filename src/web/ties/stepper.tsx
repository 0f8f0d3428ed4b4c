// Owns going through the plan step by step: forward, back, to any place, with where the assembly is in the air.

import { useFigures } from "../sheet/figures.ts";
import { verbBefore } from "../sheet/step-words.ts";
import { useWords } from "../words/words.ts";
import type { Scene } from "./scene.ts";

interface StepperProps {
  readonly scene: Scene;
  readonly step: number;
  readonly aloft: readonly [number, number] | undefined;
  /** What is shown is a run as it stands: of no step in particular. */
  readonly isLive: boolean;
  readonly onStep: (step: number) => void;
}

export const Stepper = ({ scene, step, aloft, isLive, onStep }: StepperProps) => {
  const words = useWords();
  const figures = useFigures();
  const { steps } = scene;
  const one = step === 0 ? undefined : steps[step - 1];
  const percent = (at: number) => `${(100 * at) / Math.max(1, steps.length)}%`;
  return (
    <div class="stepper">
      <button type="button" onClick={() => onStep(step - 1)} disabled={step === 0} aria-label={words.ties.back}>
        ◂
      </button>
      <button
        type="button"
        onClick={() => onStep(step + 1)}
        disabled={step === steps.length}
        aria-label={words.ties.on}
      >
        ▸
      </button>
      <div class="track">
        {aloft === undefined ? null : (
          <div class="air" style={{ left: percent(aloft[0]), width: percent(aloft[1] - aloft[0]) }}>
            <small>{words.ties.inTheAir}</small>
          </div>
        )}
        <input
          type="range"
          min={0}
          max={steps.length}
          value={step}
          aria-label={words.ties.step}
          aria-valuetext={one === undefined ? words.ties.beforeAll : words.ties.stepOf(step, steps.length, one.label)}
          onInput={({ currentTarget }) => onStep(Number(currentTarget.value))}
        />
      </div>
      <p class="said" aria-live="polite">
        {isLive ? null : one === undefined ? (
          words.ties.beforeAll
        ) : (
          <>
            <small class="soft">{words.ties.count(step, steps.length)}</small>{" "}
            <b>
              {verbBefore(words, one.action)}
              {one.label}
            </b>{" "}
            <small class="soft">
              {[
                figures.minutes(one.minutes),
                one.people > 1 ? words.ties.people(one.people) : "",
                one.torque === undefined ? "" : figures.measure(one.torque, "torque"),
                ...one.tools,
              ]
                .filter((text) => text !== "")
                .join(", ")}
            </small>
          </>
        )}
      </p>
    </div>
  );
};

// Owns the list of pins, each with letting go of it, and what is wrong with one that cannot be.

import type { CrewPlan, Pin, PinFault } from "../../plan/index.ts";
import { useWords, type Words } from "../words/words.ts";
import { samePin, writePin } from "./pins.ts";
import type { Reading } from "./reading.ts";

const sayRefused = (words: Words, { kind, skill }: PinFault, { crew }: CrewPlan): string => {
  const { refused } = words.timeline;
  if (kind !== "without the skill") return refused[kind];
  const able = crew.people.filter(({ skills }) => skills.includes(skill ?? "")).map(({ label }) => label);
  return refused[kind](skill ?? "", able.join(", "));
};

export const PinList = ({
  pins,
  refused,
  reading,
  onChange,
}: {
  readonly pins: readonly Pin[];
  readonly refused: readonly PinFault[];
  readonly reading: Reading;
  readonly onChange: (pins: readonly Pin[]) => void;
}) => {
  const words = useWords();
  const said = words.timeline.pins;
  if (pins.length === 0) return null;
  return (
    <section class="pins" aria-labelledby="pins">
      <h2 id="pins">{said.title}</h2>
      <ul>
        {pins.map((pin) => {
          const fault = refused.find((one) => samePin(one.pin, pin));
          const text = reading.pin(pin);
          return (
            <li key={writePin(pin)}>
              <span>{text}</span>
              <button
                type="button"
                aria-label={said.letGoOf(text)}
                onClick={() => onChange(pins.filter((one) => one !== pin))}
              >
                {said.letGo}
              </button>
              {fault === undefined ? null : (
                <b class="refused" role="alert">
                  {sayRefused(words, fault, reading.plan)}
                </b>
              )}
            </li>
          );
        })}
      </ul>
      <p class="small soft">
        {said.back}{" "}
        {pins.length > 1 ? (
          <button type="button" class="plain small" onClick={() => onChange([])}>
            {said.all}
          </button>
        ) : null}
      </p>
    </section>
  );
};

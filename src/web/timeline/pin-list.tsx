// Owns the list of pins, each with letting go of it, and the notice of those that cannot be.

import type { CrewPlan, Pin, PinFault } from "../../plan/index.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { samePin, writePin } from "./pins.ts";
import type { Reading } from "./reading.ts";

const sayRefused = (words: Words, { kind, skill }: PinFault, { crew }: CrewPlan): string => {
  const { refused } = words.timeline;
  if (kind !== "without the skill") return refused[kind];
  const able = crew.people.filter(({ skills }) => skills.includes(skill ?? "")).map(({ label }) => label);
  return refused[kind](skill ?? "", able.join(", "));
};

interface PinsProps {
  readonly pins: readonly Pin[];
  readonly reading: Reading;
  readonly onChange: (pins: readonly Pin[]) => void;
}

const LetGo = ({ pin, pins, reading, onChange }: PinsProps & { readonly pin: Pin }) => {
  const { pins: said } = useWords().timeline;
  return (
    <button
      type="button"
      aria-label={said.letGoOf(reading.pin(pin))}
      onClick={() => onChange(pins.filter((one) => !samePin(one, pin)))}
    >
      {said.letGo}
    </button>
  );
};

/** Pins that cannot be; the others hold, and nothing that was given is lost. */
export const RefusedPins = ({ refused, ...props }: PinsProps & { readonly refused: readonly PinFault[] }) => {
  const words = useWords();
  if (refused.length === 0) return null;
  return (
    <div class="notice pins" role="alert">
      <b>{words.timeline.pins.refused}</b>
      <ul>
        {refused.map((fault) => (
          <li key={writePin(fault.pin)}>
            <span>
              {props.reading.pin(fault.pin)}. <b>{sayRefused(words, fault, props.reading.plan)}</b>
            </span>
            <LetGo pin={fault.pin} {...props} />
          </li>
        ))}
      </ul>
    </div>
  );
};

/** @param onHide puts the outlines of what was before away, where there are any */
export const PinList = ({ onHide, ...props }: PinsProps & { readonly onHide?: () => void }) => {
  const words = useWords();
  const { pins: said, cost } = words.timeline;
  const { pins, reading, onChange } = props;
  return (
    <section class="pins" aria-labelledby="pins">
      <h2 id="pins">{said.title}</h2>
      {pins.length === 0 ? <p class="small soft">{said.none}</p> : null}
      <ul>
        {pins.map((pin) => (
          <li key={writePin(pin)}>
            <span>{reading.pin(pin)}</span>
            <LetGo pin={pin} {...props} />
          </li>
        ))}
      </ul>
      <p class="small soft">
        {pins.length === 0 ? "" : said.back}{" "}
        {pins.length > 1 ? (
          <button type="button" class="plain small" onClick={() => onChange([])}>
            {said.all}
          </button>
        ) : null}
        {onHide === undefined ? null : (
          <>
            {cost.outline}{" "}
            <button type="button" class="plain small" onClick={onHide}>
              {cost.hide}
            </button>
          </>
        )}
      </p>
    </section>
  );
};

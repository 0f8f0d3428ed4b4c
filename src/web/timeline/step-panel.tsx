// Owns what one step is asked and told: what, who, when, where, why then; begin it at a time, give it to somebody, let go of that.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Pin } from "../../plan/index.ts";
import { useWords } from "../words/words.ts";
import { readMinute } from "./clock.ts";
import type { Doing } from "./layout.ts";
import { pinnedTo, pinnedWhen, samePin } from "./pins.ts";
import type { Reading } from "./reading.ts";

interface PanelProps {
  readonly doing: Doing;
  readonly reading: Reading;
  readonly pins: readonly Pin[];
  readonly onPin: (pins: readonly Pin[]) => void;
  readonly onOpen: (doing: Doing) => void;
  readonly onClose: () => void;
}

export const StepPanel = ({ doing, reading, pins, onPin, onOpen, onClose }: PanelProps) => {
  const words = useWords();
  const { panel } = words.timeline;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [doing.pin]);
  const before = reading.before(doing);
  const { figures } = reading;
  const worked = doing.free - doing.start;
  const alone = doing.end - doing.free;
  return (
    <aside
      class="step-panel"
      aria-labelledby="step-panel"
      onKeyDown={(event: KeyboardEvent) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        onClose();
      }}
    >
      <header>
        <h2 id="step-panel" tabIndex={-1} ref={heading}>
          {reading.name(doing)}
        </h2>
        <button type="button" class="plain" onClick={onClose}>
          {panel.close}
        </button>
      </header>
      <dl>
        <dt>{panel.who}</dt>
        <dd>
          {doing.people.length === 0 ? panel.nobody : reading.whoAll(doing.people)}
          {doing.skill === undefined ? "" : ` (${doing.skill})`}
        </dd>
        <dt>{panel.when}</dt>
        <dd>
          {reading.span(doing.start, doing.end)}; {panel.lasts(figures.minutes(worked))}
          {alone > 0 ? `; ${panel.runsOn(figures.minutes(alone))}` : ""}
        </dd>
        {doing.position === undefined ? null : (
          <>
            <dt>{panel.where}</dt>
            <dd>{reading.where(doing.position)}</dd>
          </>
        )}
        {doing.tools.length === 0 ? null : (
          <>
            <dt>{panel.tools}</dt>
            <dd>{doing.tools.join(", ")}</dd>
          </>
        )}
        <dt>{panel.whyThen}</dt>
        <dd>
          {reading.why(doing)} {doing.isChained ? panel.onChain : ""}
          {before === undefined ? null : (
            <button type="button" class="plain" onClick={() => onOpen(before)}>
              {panel.toWhat}
            </button>
          )}
        </dd>
      </dl>
      {doing.times > 1 ? <p>{panel.eachTime(doing.times)}</p> : null}
      {doing.people.length === 0 ? null : (
        <>
          <When
            key={`${doing.pin} ${JSON.stringify(pins)}`}
            doing={doing}
            reading={reading}
            pins={pins}
            onPin={onPin}
          />
          <Who doing={doing} reading={reading} pins={pins} onPin={onPin} />
        </>
      )}
    </aside>
  );
};

type ForPins = Pick<PanelProps, "doing" | "reading" | "pins" | "onPin">;

/** When it begins: when it is best, exactly at a time, or not before one. */
const When = ({ doing, reading, pins, onPin }: ForPins) => {
  const words = useWords();
  const { panel } = words.timeline;
  const own = pins.find((pin) => pin.step === doing.pin && !("by" in pin));
  const isTurn = doing.action === "set" || doing.action === "clear";
  const [how, setHow] = useState<"best" | "at" | "from">(own === undefined ? "best" : "at" in own ? "at" : "from");
  const given = own === undefined ? doing.start : "at" in own ? own.at : "from" in own ? own.from : doing.start;
  const [text, setText] = useState(reading.at(given));
  const [isWrong, setWrong] = useState(false);
  const put = (kind: typeof how, time: string) => {
    const { step } = { step: doing.pin };
    if (kind === "best") {
      setWrong(false);
      if (own !== undefined) onPin(pinnedWhen(pins, step, undefined));
      return;
    }
    const minute = readMinute(time, reading.plan.crew.begins);
    setWrong(minute === undefined);
    if (minute === undefined) return;
    const pin: Pin = kind === "at" ? { step, at: minute } : { step, from: minute };
    if (own === undefined || !samePin(own, pin)) onPin(pinnedWhen(pins, step, pin));
  };
  return (
    <fieldset>
      <legend>{panel.begin}</legend>
      {(["best", "from", "at"] as const)
        .filter((kind) => kind !== "at" || !isTurn)
        .map((kind) => (
          <label key={kind}>
            <input
              type="radio"
              name="when"
              checked={how === kind}
              onChange={() => {
                setHow(kind);
                // A time is given first, or is there already.
                if (kind === "best" || own !== undefined) put(kind, text);
              }}
            />
            {kind === "best" ? panel.whenBest : kind === "at" ? panel.exactly : panel.notBefore}
          </label>
        ))}
      {how === "best" ? null : (
        <form
          onSubmit={(event: SubmitEvent) => {
            event.preventDefault();
            put(how, text);
          }}
        >
          <label class="field">
            <span>{panel.time}</span>
            <input
              class="time"
              inputMode="numeric"
              value={text}
              aria-invalid={isWrong}
              aria-describedby={isWrong ? "no-time" : undefined}
              onInput={(event) => setText(event.currentTarget.value)}
            />
          </label>
          <button type="submit">{words.timeline.pins.pin}</button>
        </form>
      )}
      {isWrong ? (
        <p class="refused" id="no-time" role="alert">
          {panel.noTime(reading.at(doing.start))}
        </p>
      ) : null}
      {isTurn ? <p class="small soft">{panel.notToTheMinute}</p> : null}
    </fieldset>
  );
};

/** Who does it: as many as are ticked, and whoever is best besides. */
const Who = ({ doing, reading, pins, onPin }: ForPins) => {
  const words = useWords();
  const { panel } = words.timeline;
  const given = pins.flatMap((pin) => (pin.step === doing.pin && "by" in pin ? [pin.by] : []));
  return (
    <fieldset>
      <legend>{panel.doneBy}</legend>
      {reading.plan.crew.people.map(({ id, label }) => (
        <label key={id}>
          <input
            type="checkbox"
            checked={given.includes(id)}
            onChange={(event) =>
              onPin(
                event.currentTarget.checked
                  ? // One alone is given on; where several work it is one more.
                    pinnedTo(pins, doing.pin, id, doing.people.length === 1 ? given[0] : undefined)
                  : pins.filter((pin) => pin.step !== doing.pin || !("by" in pin) || pin.by !== id),
              )
            }
          />
          {label}
        </label>
      ))}
      <p class="small soft">{panel.whoBest}</p>
    </fieldset>
  );
};

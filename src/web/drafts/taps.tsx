// Owns a connection by tapping: what it is, where, from what, to what, how many. Five taps, and the next one begins.

import { useState } from "preact/hooks";
import type { Added, At } from "../../draft/index.ts";
import { KINDS, type Kind, type Vehicle } from "../../vehicle/index.ts";
import { KIND_MARKS } from "../ties/kind-marks.ts";
import { useWords } from "../words/words.ts";

interface TapsProps {
  readonly vehicle: Vehicle;
  /** @returns whether it is in the draft then */
  readonly onAdd: (added: Added) => boolean;
  /** Back to what is chosen, where there is something. */
  readonly onLeave?: () => void;
}

/** What was tapped so far. */
interface Tapped {
  readonly kind?: Kind;
  readonly at?: At | null;
  readonly from?: At;
  readonly to?: At;
}

const COUNTS = [1, 2, 3, 4, 5, 6, 8, 10, 12] as const;

const isSame = (one: At | undefined, other: At): boolean =>
  one !== undefined &&
  ("id" in one ? "id" in other && one.id === other.id : "label" in other && one.label === other.label);

export const Taps = ({ vehicle, onAdd, onLeave }: TapsProps) => {
  const words = useWords();
  const { taps } = words.drafts;
  const [tapped, setTapped] = useState<Tapped>({});
  const [said, setSaid] = useState("");
  const { kind, at, from, to } = tapped;
  const step = kind === undefined ? 0 : at === undefined ? 1 : from === undefined ? 2 : to === undefined ? 3 : 4;
  const next = (part: Tapped) => {
    setSaid("");
    setTapped({ ...tapped, ...part });
  };
  const back = () => {
    const { kind: a, at: b, from: c } = tapped;
    setTapped(
      step === 4
        ? { ...(a && { kind: a }), ...(b !== undefined && { at: b }), ...(c && { from: c }) }
        : step === 3
          ? { ...(a && { kind: a }), ...(b !== undefined && { at: b }) }
          : step === 2
            ? { ...(a && { kind: a }) }
            : {},
    );
  };
  const finish = (count: number | undefined) => {
    if (kind === undefined || from === undefined || to === undefined) return;
    const isIn = onAdd({
      kind,
      label: taps.label(words.kinds[kind], labelOf(from, vehicle.parts), labelOf(to, vehicle.parts)),
      joins: [from, to],
      ...(at == null ? {} : { at }),
      ...(count === undefined ? {} : { count }),
    });
    if (!isIn) return;
    setTapped({});
    setSaid(taps.added(so.join(", ")));
  };
  const labelOf = (one: At, list: readonly { readonly id: string; readonly label: string }[]): string =>
    "label" in one ? one.label : (list.find(({ id }) => id === one.id)?.label ?? one.id);
  const so = [
    kind === undefined ? undefined : words.kinds[kind],
    at === undefined ? undefined : at === null ? words.drafts.noPosition : labelOf(at, vehicle.positions),
    from === undefined ? undefined : labelOf(from, vehicle.parts),
    to === undefined ? undefined : labelOf(to, vehicle.parts),
  ].filter((one) => one !== undefined);
  const places = new Set(vehicle.positions.map(({ label }) => label.toLowerCase()));
  return (
    <section class="taps" aria-labelledby="taps">
      <h2 id="taps" tabIndex={-1}>
        {taps.title} <span class="soft">{taps.of(step + 1)}</span>
      </h2>
      <p class="so-far" aria-live="polite">
        {said !== "" ? <b>{said}</b> : so.join(" · ")}
      </p>
      <h3>{taps.steps[step]}</h3>
      {step === 0 ? (
        <ul class="choices">
          {KINDS.map((one) => (
            <li key={one}>
              <button type="button" onClick={() => next({ kind: one })}>
                <svg viewBox="-7 -7 14 14" aria-hidden="true">
                  <path class={KIND_MARKS[one].solid === true ? "mark solid" : "mark"} d={KIND_MARKS[one].mark} />
                </svg>
                {words.kinds[one]}
              </button>
            </li>
          ))}
        </ul>
      ) : step === 1 ? (
        <Choices
          key="at"
          given={[
            ...vehicle.positions.map(({ id, label }) => ({ label, at: { id } })),
            ...words.drafts.places
              .filter((label) => !places.has(label.toLowerCase()))
              .map((label) => ({ label, at: { label } })),
          ]}
          unknown={{ label: taps.unknown, take: () => next({ at: null }) }}
          onTake={(one) => next({ at: one })}
        />
      ) : step < 4 ? (
        <Choices
          key={step}
          given={[
            ...vehicle.parts
              .toSorted((a, b) => Number(a.fixed) - Number(b.fixed))
              .map(({ id, label }) => ({ label, at: { id } })),
            ...(from !== undefined && "label" in from ? [{ label: from.label, at: from }] : []),
          ].filter((one) => step === 2 || !isSame(from, one.at))}
          onTake={(one) => next(step === 2 ? { from: one } : { to: one })}
        />
      ) : (
        <Counts onTake={finish} />
      )}
      <p class="row">
        {step === 0 ? null : (
          <button type="button" class="plain" onClick={back}>
            {taps.back}
          </button>
        )}
        {onLeave === undefined ? null : (
          <button type="button" class="plain" onClick={onLeave}>
            {words.drafts.cancel}
          </button>
        )}
      </p>
    </section>
  );
};

/** Those that are there as a button each, and another one by its name. */
const Choices = ({
  given,
  unknown,
  onTake,
}: {
  readonly given: readonly { readonly label: string; readonly at: At }[];
  readonly unknown?: { readonly label: string; readonly take: () => void };
  readonly onTake: (at: At) => void;
}) => {
  const words = useWords();
  const [name, setName] = useState("");
  return (
    <>
      <ul class="choices">
        {given.map(({ label, at }) => (
          <li key={label}>
            <button type="button" onClick={() => onTake(at)}>
              {label}
            </button>
          </li>
        ))}
        {unknown === undefined ? null : (
          <li>
            <button type="button" onClick={unknown.take}>
              {unknown.label}
            </button>
          </li>
        )}
      </ul>
      <form
        class="row"
        onSubmit={(event) => {
          event.preventDefault();
          if (name.trim() !== "") onTake({ label: name.trim() });
        }}
      >
        <label class="field">
          <span>{words.drafts.anotherName}</span>
          <input value={name} onInput={({ currentTarget }) => setName(currentTarget.value)} />
        </label>
        <button type="submit">{words.drafts.taps.add}</button>
      </form>
    </>
  );
};

const Counts = ({ onTake }: { readonly onTake: (count: number | undefined) => void }) => {
  const words = useWords();
  const [count, setCount] = useState("");
  return (
    <>
      <ul class="choices">
        {COUNTS.map((one) => (
          <li key={one}>
            <button type="button" onClick={() => onTake(one)}>
              {one}
            </button>
          </li>
        ))}
        <li>
          <button type="button" onClick={() => onTake(undefined)}>
            {words.drafts.taps.unknown}
          </button>
        </li>
      </ul>
      <form
        class="row"
        onSubmit={(event) => {
          event.preventDefault();
          if (/^[1-9]\d*$/.test(count)) onTake(Number(count));
        }}
      >
        <label class="field">
          <span>{words.drafts.count}</span>
          <input
            inputMode="numeric"
            pattern="[1-9][0-9]*"
            value={count}
            onInput={({ currentTarget }) => setCount(currentTarget.value)}
          />
        </label>
        <button type="submit">{words.drafts.taps.add}</button>
      </form>
    </>
  );
};

// Owns the search for lengths: an attitude is wanted, and the steps to take up in each leg come back, with their range; a fit can be hung to see it.

import { useState } from "preact/hooks";
import type { LiftHung } from "../../plan/index.ts";
import type { Band } from "../../rigging/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import type { Asking } from "./asking.ts";
import { useTilt } from "./attitude.tsx";
import { useSaying } from "./checks.tsx";

interface WantedProps {
  readonly lift: LiftHung;
  readonly asking: Asking;
  readonly ask: (part: Readonly<Record<string, string | undefined>>) => void;
}

interface FitShown {
  readonly taken: readonly number[];
  readonly pin?: string;
  readonly pitch: number;
  readonly roll: number;
  readonly range?: Band;
  readonly tried?: true;
  readonly miss: number;
}

export const Wanted = ({ lift, asking, ask }: WantedProps) => {
  const words = useWords();
  const figures = useFigures();
  const { legs } = lift.slung.rig;
  const tilt = useTilt();
  const [fault, setFault] = useState(false);
  const submit = (form: HTMLFormElement) => {
    const given = (name: string) =>
      String(new FormData(form).get(name) ?? "")
        .trim()
        .replace(",", ".")
        .replace("−", "-");
    const band = (name: string): string | undefined | "wrong" => {
      const [low, high] = [given(`${name}-low`), given(`${name}-high`)];
      if (low === "" && high === "") return undefined;
      const [from, to] = [Number(low === "" ? high : low), Number(high === "" ? low : high)];
      return from <= to && Math.abs(from) <= 90 && Math.abs(to) <= 90 ? `${from}..${to}` : "wrong";
    };
    const [pitch, roll] = [band("pitch"), band("roll")];
    setFault(pitch === "wrong" || roll === "wrong");
    if (pitch !== "wrong" && roll !== "wrong") ask({ pitch, roll, taken: undefined, pin: undefined });
  };
  const field = (name: string, value: number | undefined, label: string) => (
    <input
      name={name}
      inputMode="decimal"
      size={4}
      aria-label={label}
      {...(value === undefined ? {} : { defaultValue: String(value) })}
    />
  );
  const say = useSaying();
  const { takeUp } = lift.answer;
  return (
    <section aria-labelledby="wanted">
      <h2 id="wanted">{words.lift.wanted}</h2>
      <form
        class="wanted"
        key={`${asking.pitch} ${asking.roll}`}
        onSubmit={(event) => {
          event.preventDefault();
          submit(event.currentTarget);
        }}
      >
        <p>
          {words.lift.pitch} {field("pitch-low", asking.pitch?.[0], words.lift.pitchLow)} …{" "}
          {field("pitch-high", asking.pitch?.[1], words.lift.pitchHigh)}°, {words.lift.roll}{" "}
          {field("roll-low", asking.roll?.[0], words.lift.rollLow)} …{" "}
          {field("roll-high", asking.roll?.[1], words.lift.rollHigh)}°{" "}
          <button type="submit">{words.lift.search}</button>
        </p>
        <p class="small soft">{words.lift.signs}</p>
        {fault ? (
          <p class="notice" role="alert">
            {words.lift.badBand}
          </p>
        ) : null}
      </form>
      {asking.taken === undefined && asking.pin === undefined ? null : (
        <p class="notice">
          {asking.taken === undefined
            ? ""
            : words.lift.hungWith(legs.map(({ id }, n) => `${id} ${asking.taken?.[n] ?? 0}`).join(", "))}{" "}
          {asking.pin === undefined ? "" : words.lift.beamBy(asking.pin)}{" "}
          <button type="button" class="plain" onClick={() => ask({ taken: undefined, pin: undefined })}>
            {words.lift.asInFile}
          </button>
        </p>
      )}
      {takeUp === undefined ? null : "why" in takeUp ? (
        <p>{words.lift.notSearched(say(takeUp.why))}</p>
      ) : "pins" in takeUp ? (
        <ul>
          {takeUp.pins.map(({ pin, range, miss, proved }) => (
            <li key={pin}>
              {words.lift.beamBy(pin)} {words.lift.between(tilt.pitch(range.pitch[0]), tilt.pitch(range.pitch[1]))}:{" "}
              {miss === 0 ? words.lift.fits : words.lift.misses(figures.degrees(miss))}
              {proved ? "" : `, ${words.lift.onlyTried}`}{" "}
              <button type="button" class="plain" onClick={() => ask({ pin })}>
                {words.lift.hangIt}
              </button>
            </li>
          ))}
        </ul>
      ) : (
        <>
          <p>
            <b>{takeUp.fit === undefined ? words.lift.noFit : words.lift.aFit}</b>{" "}
            <span class="soft">
              {words.lift.looked(takeUp.looked, takeUp.proved)} {words.lift.stepsAre}
            </span>
          </p>
          <Fits
            fits={[...[takeUp.fit ?? takeUp.nearest].filter((one) => one !== undefined), ...takeUp.neighbours]}
            legs={legs.map(({ id }) => id)}
            onHang={({ taken, pin }) => ask({ taken: taken.join(","), pin })}
          />
        </>
      )}
    </section>
  );
};

interface FitsProps {
  readonly fits: readonly FitShown[];
  readonly legs: readonly string[];
  readonly onHang: (fit: FitShown) => void;
}

const Fits = ({ fits, legs, onHang }: FitsProps) => {
  const words = useWords();
  const figures = useFigures();
  const tilt = useTilt();
  return (
    <table>
      <thead>
        <tr>
          {legs.map((leg) => (
            <th key={leg} class="number">
              {leg}
            </th>
          ))}
          <th>{words.lift.hangs}</th>
          <th>{words.lift.range}</th>
          <th>
            <span class="unseen">{words.lift.hangIt}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {fits.map((fit) => {
          const { taken, pin, pitch, roll, range, tried, miss } = fit;
          return (
            <tr key={`${taken.join()} ${pin}`}>
              {taken.map((steps, n) => (
                <td key={legs[n]} class="number">
                  {steps}
                </td>
              ))}
              <td>
                {pin === undefined ? "" : `${words.lift.beamBy(pin)} `}
                {tilt.pitch(pitch)}, {tilt.roll(roll)}
              </td>
              <td class="small">
                {range === undefined ? "" : words.lift.between(tilt.pitch(range.pitch[0]), tilt.pitch(range.pitch[1]))}
                {tried ? `, ${words.lift.onlyTried}` : ""}
                {miss > 0 ? `, ${words.lift.misses(figures.degrees(miss))}` : ""}
              </td>
              <td>
                <button type="button" class="plain" onClick={() => onHang(fit)}>
                  {words.lift.hangIt}
                </button>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
};

// Owns the answer of a lift in figures: weight, attitude, how stable, where the hook stands, above which reading to stop.

import type { LiftHung } from "../../plan/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { useTitle } from "./checks.tsx";

/** Below this an attitude is level, degrees. */
const LEVEL = 0.05;

export const useTilt = () => {
  const words = useWords();
  const figures = useFigures();
  return {
    pitch: (value: number) =>
      Math.abs(value) < LEVEL
        ? words.lift.levelLong
        : value > 0
          ? words.lift.noseDown(figures.degrees(value))
          : words.lift.noseUp(figures.degrees(-value)),
    roll: (value: number) =>
      Math.abs(value) < LEVEL
        ? words.lift.levelAcross
        : value > 0
          ? words.lift.leftUp(figures.degrees(value))
          : words.lift.leftDown(figures.degrees(-value)),
  };
};

export const Attitude = ({ lift, name }: { readonly lift: LiftHung; readonly name: (id: string) => string }) => {
  const title = useTitle(name);
  const words = useWords();
  const figures = useFigures();
  const tilt = useTilt();
  const { answer, slung } = lift;
  const { hanging, ranges, stop } = answer;
  const { mass } = slung.rig.load;
  const known = ranges.kind === "ranges" ? ranges : undefined;
  const tips = hanging.kind === "tips";
  const margin = tips ? hanging.margin : hanging.stability.margin;
  return (
    <div class="figures">
      <div class="figure">
        <small>{words.lift.load}</small>
        <b>{figures.measure(mass.nominal, "mass")}</b>
        <small>{words.lift.between(figures.measure(mass.low, "mass"), figures.measure(mass.high, "mass"))}</small>
      </div>
      <div class="figure">
        <small>{words.lift.hangs}</small>
        <b>{tips ? words.lift.tips : tilt.pitch(hanging.pitch)}</b>
        <small>
          {tips
            ? words.lift.notSo
            : known === undefined
              ? words.lift.noRange
              : words.lift.between(tilt.pitch(known.pitch.low.bound), tilt.pitch(known.pitch.high.bound))}
        </small>
      </div>
      {tips ? null : (
        <div class="figure">
          <small>{words.lift.across}</small>
          <b>{tilt.roll(hanging.roll)}</b>
          <small>
            {known === undefined
              ? words.lift.noRange
              : words.lift.between(tilt.roll(known.roll.low.bound), tilt.roll(known.roll.high.bound))}
          </small>
        </div>
      )}
      <div class="figure">
        <small>{words.lift.margin}</small>
        <b>{Number.isFinite(margin) ? figures.measure(margin, "length") : "—"}</b>
        <small>
          {margin < 0
            ? Number.isFinite(margin)
              ? words.lift.tipsBy
              : words.lift.tipsAlways
            : known === undefined
              ? words.lift.marginIs
              : words.lift.marginLeast(figures.measure(known.margin.low.bound, "length"))}
        </small>
      </div>
      {tips ? null : (
        <div class="figure">
          {hanging.hooks.length > 1 ? (
            <>
              <small>{words.lift.hooks}</small>
              <b>{hanging.hooks.map(({ load }) => figures.measure(load, "force")).join(", ")}</b>
              <small>{words.lift.hooksHow(hanging.hooks.map(({ id }) => id).join(", "))}</small>
            </>
          ) : (
            <>
              <small>{words.lift.hook}</small>
              <b>{hanging.liftOff.over.map((value) => figures.measure(value, "short")).join(", ")}</b>
              <small>{words.lift.hookOver(figures.measure(hanging.liftOff.overCentre, "length"))}</small>
            </>
          )}
        </div>
      )}
      {tips ? null : (
        <div class="figure">
          <small>{words.lift.stop}</small>
          <b>{figures.measure(stop.newtons, "force")}</b>
          <small>
            {stop.because !== "a limit" ? words.lift.stopLoad : words.lift.stopLimit(title(stop.check, stop.at))}
          </small>
        </div>
      )}
    </div>
  );
};

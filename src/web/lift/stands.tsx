// Owns a load that stands on a table or on jacks while it goes: what bears it, its margin, its checks.

import { type LiftStanding, padOf } from "../../plan/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { Checks, useSaying } from "./checks.tsx";
import { Way } from "./way.tsx";

export const Stands = ({ lift, name }: { readonly lift: LiftStanding; readonly name: (id: string) => string }) => {
  const words = useWords();
  const figures = useFigures();
  const say = useSaying();
  const { mass } = lift.centre;
  const { margin, shares } = lift.stand;
  const { range } = lift;
  return (
    <>
      <div class="figures">
        <div class="figure">
          <small>{words.lift.load}</small>
          <b>{figures.measure(mass.nominal, "mass")}</b>
          <small>{words.lift.between(figures.measure(mass.low, "mass"), figures.measure(mass.high, "mass"))}</small>
        </div>
        <div class="figure">
          <small>{words.lift.inside}</small>
          <b>{margin === undefined || !Number.isFinite(margin) ? "–" : figures.measure(margin, "short")}</b>
          <small>{words.lift.insideHow}</small>
        </div>
        {shares.map(({ id, force }) => (
          <div class="figure" key={id}>
            <small>{words.lift.bears(padOf(id) === id ? name(id) : `${words.lift.pad} ${padOf(id)}`)}</small>
            <b>{figures.measure(force, "force")}</b>
            {range?.shares
              .filter((own) => own.id === id)
              .map(({ low, high }) => (
                <small key={id}>
                  {words.lift.between(figures.measure(low, "force"), figures.measure(high, "force"))}
                </small>
              ))}
          </div>
        ))}
        {range?.leans === undefined ? null : (
          <div class="figure">
            <small>{words.lift.leans}</small>
            <b>{figures.degrees(range.leans)}</b>
            <small>
              {range.uneven === undefined
                ? words.lift.leansHow
                : words.lift.uneven(figures.measure(range.uneven, "short"))}
            </small>
          </div>
        )}
      </div>
      <div class="two">
        <Checks checks={lift.checks} name={name} />
        <Way stands clearing={lift.clearing} taut={lift.taut} name={name} />
      </div>
      {lift.assumed
        .map((one) => say(one))
        .map((text) => (
          <p key={text} class="small soft">
            ≈ {text}
          </p>
        ))}
    </>
  );
};

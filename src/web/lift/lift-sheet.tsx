// Owns the sheet of the lift: how it hangs, drawn to scale, what each leg carries over all that is not known, every check with its figures and source, lengths for a wanted attitude.

import { useMemo } from "preact/hooks";
import { type LiftHung, type LiftRefused, nameIn, ownId } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { NoPlanYet } from "../order/no-plan.tsx";
import { usePlan } from "../order/use-plan.ts";
import { Help } from "../sheet/help.tsx";
import { Failed, Notice } from "../sheet/states.tsx";
import { useAnswer } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { type Asking, useAsking } from "./asking.ts";
import { Attitude } from "./attitude.tsx";
import { Checks, Holding, useRefusing, useSaying } from "./checks.tsx";
import { Legs } from "./legs.tsx";
import { Stands } from "./stands.tsx";
import { Trial } from "./trial.tsx";
import { Views } from "./views.tsx";
import { Wanted } from "./wanted.tsx";
import { Way } from "./way.tsx";

export const LiftSheet = () => {
  const words = useWords();
  const { vehicle, release } = usePlan();
  const plan = release.data?.plan;
  if (vehicle === undefined || plan === undefined) return <NoPlanYet release={release} />;
  if (plan.lifts.length === 0) return <Notice what={words.sheet.noLift} mend={words.lift.noLiftMend} />;
  return <Lift vehicle={vehicle} />;
};

/** Degrees that leave an attitude free. */
const FREE = { pitch: [-90, 90], roll: [-180, 180] } as const;

const Lift = ({ vehicle }: { readonly vehicle: Vehicle }) => {
  const words = useWords();
  const { order } = usePlan();
  const [asking, ask] = useAsking();
  const body = useMemo(() => {
    const { task, pitch, roll, taken, pin } = asking;
    if (order === undefined) return undefined;
    return {
      order,
      ...(task === undefined ? {} : { task }),
      ...(pitch === undefined && roll === undefined
        ? {}
        : { wanted: { pitch: pitch ?? FREE.pitch, roll: roll ?? FREE.roll } }),
      ...(taken === undefined ? {} : { taken }),
      ...(pin === undefined ? {} : { pin }),
    };
  }, [order, asking]);
  const found = useAnswer("lift", body);
  if (found.error !== null) return <Failed error={found.error} again={() => void found.refetch()} />;
  const { data } = found;
  if (data === undefined) return <p class="waiting busy">{words.sheet.computing}</p>;
  const { lift, lifts } = data;
  const name = (id: string) => nameIn(vehicle, id);
  return (
    <div class={found.isPlaceholderData ? "lift busy" : "lift"}>
      {lifts.length < 2 ? null : (
        <label class="field which">
          <span>{words.lift.which}</span>
          <select
            value={data.task}
            onChange={({ currentTarget }) => ask({ task: currentTarget.value, taken: undefined, pin: undefined })}
          >
            {lifts.map(({ task, label }) => (
              <option key={task} value={task}>
                {label}
              </option>
            ))}
          </select>
        </label>
      )}
      {lift === undefined ? null : lift.kind === "refused" ? (
        <Refused lift={lift} name={name} />
      ) : lift.kind === "stands" ? (
        <Stands lift={lift} name={name} />
      ) : (
        <Hung lift={lift} views={data.views} name={name} asking={asking} ask={ask} task={data.task ?? ""} />
      )}
      <Holding holding={data.holding} name={name} />
      {lift?.kind === "stands" ? <p class="soft">{words.lift.practiceStanding}</p> : null}
    </div>
  );
};

const Refused = ({ lift, name }: { readonly lift: LiftRefused; readonly name: (id: string) => string }) => {
  const words = useWords();
  const refusing = useRefusing();
  return (
    <Notice what={words.lift.refused} mend="">
      <ul>
        {lift.faults.map((fault) => {
          const { what, mend } = refusing(fault);
          const place = fault.at === lift.group.task ? "" : `${words.lift.thing(name(ownId(fault.at)))}: `;
          return (
            <li key={`${fault.at} ${what}`}>
              {place}
              {what}. {mend}
            </li>
          );
        })}
      </ul>
    </Notice>
  );
};

interface HungProps {
  readonly lift: LiftHung;
  readonly views: readonly { readonly name: string; readonly svg: string }[];
  readonly name: (id: string) => string;
  readonly asking: Asking;
  readonly ask: (part: Readonly<Record<string, string | undefined>>) => void;
  readonly task: string;
}

const Hung = ({ lift, views, name, asking, ask, task }: HungProps) => {
  const words = useWords();
  const say = useSaying();
  return (
    <>
      <Attitude lift={lift} name={name} />
      {lift.answer.hanging.kind === "tips" ? <p class="notice">{words.lift.drawnTipping}</p> : null}
      <Views views={views} />
      <div class="two">
        <div>
          <Legs lift={lift} />
          <Wanted lift={lift} asking={asking} ask={ask} />
          <Trial task={task} asking={asking} />
        </div>
        <div>
          <Checks checks={lift.answer.checks} name={name} />
          <Way clearing={lift.answer.clearing} taut={lift.answer.taut} name={name} />
          {lift.assumed.length === 0 ? null : (
            <details>
              <summary>{words.lift.assumed(lift.assumed.length)}</summary>
              <ul class="because">
                {lift.assumed
                  .map((one) => say(one))
                  .map((text) => (
                    <li key={text}>≈ {text}</li>
                  ))}
              </ul>
            </details>
          )}
          <Help title={words.lift.help.title}>{words.lift.help.text}</Help>
          <p class="soft">{words.lift.practice}</p>
        </div>
      </div>
    </>
  );
};

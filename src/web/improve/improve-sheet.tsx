// Owns the sheet of what to change first: what is asked, how far it is, the ranked changes, what the design costs, and the ways to mend side by side.

import { useMemo } from "preact/hooks";
import type { Improved, ImproveStage, Ranking } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { ImproveSaid, Taught } from "../engine/times-asked.ts";
import { useOrderState } from "../order/order-state.ts";
import { useFigures } from "../sheet/figures.ts";
import { Failed, Notice } from "../sheet/states.tsx";
import { useTyped } from "../sheet/typed.ts";
import { type Lasting, Stopped, useLasting } from "../shop/lasting.ts";
import { useModel } from "../shop/model.tsx";
import { Help } from "../times/help.tsx";
import { useRuns } from "../times/use-runs.ts";
import { useWords } from "../words/words.ts";
import { AskedForm } from "./asked-form.tsx";
import { ChangesList } from "./changes-list.tsx";
import { Costs } from "./costs.tsx";
import { bodyOf, NOTHING_SAID } from "./form.ts";
import { RANKINGS, rank } from "./ranking.ts";
import { WaysSection } from "./ways-section.tsx";

const UNTAUGHT: Taught = {};

export const ImproveSheet = () => {
  const { reading, base } = useModel();
  const { vehicle } = reading;
  return vehicle === undefined ? null : <Improving vehicle={vehicle} name={`${base.from}/${base.id}`} />;
};

const Improving = ({ vehicle, name }: { readonly vehicle: Vehicle; readonly name: string }) => {
  const words = useWords();
  const [{ crew }] = useOrderState();
  const taught = useRuns().taught ?? UNTAUGHT;
  const [form, setForm] = useTyped(`improve form ${name}`, NOTHING_SAID);
  const [asked, setAsked] = useTyped(`improve asked ${name}`, NOTHING_SAID);
  const body = useMemo(() => bodyOf(asked, vehicle, crew, taught), [asked, vehicle, crew, taught]);
  const answer = useLasting("improve", body);
  const { improved } = answer.data ?? {};
  const byFile =
    asked.changes === undefined || body.weighed || improved?.weighed !== true
      ? undefined
      : new Map(improved.jobs.map(({ id, weight }) => [id, weight]));
  const isAsked = JSON.stringify(form) === JSON.stringify(asked);
  return (
    <div class="improve-sheet">
      <section class="improve-asked">
        <AskedForm form={form} change={setForm} ask={setAsked} vehicle={vehicle} isAsked={isAsked} byFile={byFile} />
      </section>
      <section class="improve-found" aria-labelledby="improve">
        <h1 id="improve">{words.improve.title}</h1>
        <p class="soft">{words.improve.lead}</p>
        {taught === UNTAUGHT ? null : <p class="small">{words.improve.taught}</p>}
        <Answer answer={answer} vehicle={vehicle} />
      </section>
      <WaysSection vehicle={vehicle} name={name} taught={taught} />
    </div>
  );
};

const stageSaid = (stage: ImproveStage | undefined, words: ReturnType<typeof useWords>["improve"]): string =>
  stage === undefined
    ? words.reading
    : stage.doing === "planning"
      ? words.planning(stage.at, stage.of)
      : words.trying(stage.changes, stage.at, stage.of);

const Answer = ({ answer, vehicle }: { readonly answer: Lasting<ImproveSaid>; readonly vehicle: Vehicle }) => {
  const words = useWords();
  const figures = useFigures();
  const { data, error, isComputing, isBefore, isStopped } = answer;
  const stage = isComputing && !isBefore ? data?.stage : undefined;
  const again = (
    <button type="button" onClick={answer.again}>
      {words.sheet.again}
    </button>
  );
  return (
    <>
      {isComputing ? (
        <div class="doing busy">
          <p role="status">
            {stageSaid(stage, words.improve)} <small class="soft">{words.improve.elsewhere}</small>
          </p>
          {stage === undefined ? null : (
            <progress
              max={2 * stage.of}
              value={(stage.doing === "planning" ? 0 : stage.of) + stage.at - 1}
              aria-label={words.improve.title}
            />
          )}
          <button type="button" onClick={answer.stop}>
            {words.sheet.cancel}
          </button>
        </div>
      ) : null}
      {isComputing && isBefore && data?.improved !== undefined ? <p class="small">{words.improve.behind}</p> : null}
      {!isComputing && error instanceof Stopped ? (
        <Notice what={words.times.stopped} mend="">
          {again}
        </Notice>
      ) : !isComputing && error !== null ? (
        <Failed error={error} again={answer.again} />
      ) : null}
      {isStopped ? (
        <div class="notice">
          <p>{words.improve.stopped}</p>
          {again}
        </div>
      ) : null}
      {data === undefined ? null : data.faults.length > 0 ? (
        <div class="notice" role="alert">
          <ul>
            {data.faults.map(({ at, what, mend }) => (
              <li key={`${at.line}:${at.column} ${what}`}>
                <b>{words.times.line(at.file, at.line)}</b>: {what} <span class="soft">{mend}</span>
              </li>
            ))}
          </ul>
        </div>
      ) : data.improved === undefined ? null : (
        <Found improved={data.improved} rate={data.rate} stage={data.stage} vehicle={vehicle} isBefore={isBefore} />
      )}
      {data?.improved !== undefined && !isComputing && !isStopped ? (
        <p class="small soft">{words.improve.took(`${figures.number(data.ms / 1000, 1)} s`)}</p>
      ) : null}
    </>
  );
};

const Found = ({
  improved,
  rate,
  stage,
  vehicle,
  isBefore,
}: {
  readonly improved: Improved;
  readonly rate: number | undefined;
  readonly stage: ImproveStage | undefined;
  readonly vehicle: Vehicle;
  readonly isBefore: boolean;
}) => {
  const words = useWords();
  const [by, setBy] = useTyped<Ranking>("improve by", "labour");
  const ranked = rank(improved, by);
  // Nothing was tried yet: only the jobs as they are are known.
  const isUntried = stage !== undefined && (stage.doing === "planning" || stage.at === 1);
  if (isUntried) return <Costs improved={improved} vehicle={vehicle} isUntried />;
  if (!improved.jobs.some(({ status }) => status === "reckoned"))
    return <Notice what={words.improve.noneReckoned} mend={words.improve.noneReckonedMend} />;
  return (
    <div class={isBefore ? "found before" : "found"}>
      {stage?.doing === "trying" ? <p class="small">{words.improve.soFar(stage.at - 1, stage.of)}</p> : null}
      <fieldset class="rank">
        <legend>{words.improve.rankBy}</legend>
        {RANKINGS.map((one) => (
          <label key={one}>
            <input type="radio" name="rank" checked={one === by} onChange={() => setBy(one)} />
            {words.improve.ranks[one]}
          </label>
        ))}
      </fieldset>
      {ranked.changes.length === 0 ? (
        <p>{words.improve.none}</p>
      ) : (
        <ChangesList improved={improved} ranked={ranked} by={by} rate={rate} vehicle={vehicle} />
      )}
      <p class="small soft">
        {ranked.useless === 0 ? "" : words.improve.noSaving(ranked.useless)}{" "}
        {improved.untried.length === 0 ? "" : words.improve.untried(improved.untried.length)}
      </p>
      <Help title={words.improve.helpLabour}>{words.improve.helpLabourText}</Help>
      <Costs improved={improved} vehicle={vehicle} />
    </div>
  );
};

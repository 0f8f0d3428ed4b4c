// Owns the part of the sheet that answers when it is done: the promise that is asked about, the figures, the drawing, what the finish waits for.

import { useMemo, useRef } from "preact/hooks";
import type { Schedule } from "../../crew/index.ts";
import type { FinishSaid, Taught } from "../engine/times-asked.ts";
import { useOrderState } from "../order/order-state.ts";
import { usePlan } from "../order/use-plan.ts";
import { useFigures } from "../sheet/figures.ts";
import { Failed, Notice } from "../sheet/states.tsx";
import { useTyped } from "../sheet/typed.ts";
import { type Lasting, useLasting } from "../shop/lasting.ts";
import { useModel } from "../shop/model.tsx";
import { useCrew } from "../timeline/use-crew.ts";
import { useWords } from "../words/words.ts";
import { chanceWithin, readTime } from "./chances.ts";
import { FinishDrawing } from "./finish-drawing.tsx";
import { Help } from "./help.tsx";
import { Waits } from "./waits.tsx";

const NOTHING: Taught = {};
const SEVEN = "07:00";
/** A schedule that is shorter by less than this is no reason to carry it out ten thousand times anew, minutes. */
const SHORTER = 0.5;

/** The schedule that the timeline shows as well: the first that is found, and the last where it is worth it. Each between would end the thread in the middle of the one before. */
const useSchedule = () => {
  const { order } = usePlan();
  const [{ crew }] = useOrderState();
  const known = useCrew();
  const said = known.isPlaceholderData ? undefined : known.data;
  const key = JSON.stringify([order, crew]);
  const kept = useRef<{ readonly key: string; readonly schedule: Schedule; readonly elapsed: number }>();
  const { schedule, plan } = said ?? {};
  if (
    schedule !== undefined &&
    plan !== undefined &&
    (kept.current?.key !== key || (said?.isLast === true && plan.elapsed < kept.current.elapsed - SHORTER))
  )
    kept.current = { key, schedule, elapsed: plan.elapsed };
  const { current } = kept;
  const asked = useMemo(
    () =>
      order === undefined || current?.key !== key
        ? undefined
        : {
            order,
            ...(crew === undefined ? {} : { crew }),
            schedule: current.schedule,
            elapsed: current.elapsed,
          },
    [order, crew, key, current],
  );
  return { known, said, asked, key };
};

/** The finish of a schedule, with what runs taught where it is given. */
const useFinish = (asked: ReturnType<typeof useSchedule>["asked"], taught: Taught | undefined): Lasting<FinishSaid> => {
  const body = useMemo(
    () => (asked === undefined || taught === undefined ? undefined : { ...asked, taught }),
    [asked, taught],
  );
  return useLasting("finish", body, taught === NOTHING ? "finish" : "finish as taught");
};

export const FinishSection = ({ taught }: { readonly taught: Taught | undefined }) => {
  const words = useWords();
  const figures = useFigures();
  const { known, said, asked, key } = useSchedule();
  const plain = useFinish(asked, NOTHING);
  const learnt = useFinish(asked, taught);
  const shown = taught === undefined ? plain : learnt;
  // What is shown is of this order while only its schedule is sharpened.
  const shownKey = useRef(key);
  if (shown.data !== undefined && !shown.isBefore) shownKey.current = key;
  const isOther = shown.isBefore && shownKey.current !== key;
  const none =
    said === undefined || asked !== undefined ? undefined : (said.none ?? (said.isLast ? "no schedule" : undefined));
  const plan = said?.plan;
  const error = known.error ?? shown.error;
  const isSimulating = shown.isComputing && (shown.data === undefined || shown.isBefore);
  const doing = isSimulating
    ? words.times.simulating
    : known.isFetching
      ? plan === undefined
        ? words.times.scheduling
        : words.times.schedulingSo(figures.minutes(plan.elapsed), figures.minutes(plan.bound))
      : shown.isComputing
        ? words.times.weighing
        : undefined;
  return (
    <section class="finish" aria-labelledby="finish">
      <h1 id="finish">{words.times.title}</h1>
      {doing === undefined ? null : (
        <p class="doing busy" role="status">
          {doing}
        </p>
      )}
      {said !== undefined && said.faults.length > 0 ? (
        <Notice
          what={said.faults.map(({ what }) => what).join("; ")}
          mend={said.faults.map(({ mend }) => mend).join(" ")}
        />
      ) : none !== undefined ? (
        <Notice what={words.times.none[none]} mend={words.times.noneMend} />
      ) : error !== null && doing === undefined ? (
        <Failed error={error} again={known.error === null ? shown.again : known.refetch} />
      ) : shown.data === undefined ? null : (
        <Found
          said={shown.data}
          isBefore={isOther}
          {...(taught === undefined || plain.data === undefined ? {} : { beside: plain.data })}
        />
      )}
    </section>
  );
};

const Found = ({
  said,
  beside,
  isBefore,
}: {
  readonly said: FinishSaid;
  readonly beside?: FinishSaid;
  readonly isBefore: boolean;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { base } = useModel();
  const [{ begins: ordered }] = useOrderState();
  const name = `${base.from}/${base.id}`;
  const [begins, setBegins] = useTyped(`begins ${name}`, ordered?.slice(11, 16) ?? SEVEN);
  const [by, setBy] = useTyped(`done by ${name}`, "");
  const { finish, quantiles } = said;
  const start = (readTime(begins, 0) ?? 7 * 60) % 1440;
  const until = by.trim() === "" ? undefined : readTime(by, start);
  const isWrong = by.trim() !== "" && until === undefined;
  const p = (share: number) => finish.percentiles.find((one) => one.share === share);
  const figure = (label: string, minutes: number | undefined, error?: number) =>
    minutes === undefined ? null : (
      <div class="figure">
        <small>{label}</small>
        <b>{figures.minutes(minutes)}</b>
        <small>
          {figures.clock(start + minutes)}
          {error === undefined ? "" : `, ± ${figures.number(error, 1)} min`}
        </small>
      </div>
    );
  return (
    <div class={isBefore ? "found before" : "found"}>
      <p class="soft">{words.times.lead(finish.people, figures.number(finish.runs))}</p>
      <div class="finish-figures">
        {figure(words.times.planned, finish.planned)}
        {figure(words.times.middle, p(0.5)?.value, p(0.5)?.error)}
        {figure(words.times.mean, finish.mean.value, finish.mean.error)}
        {figure(words.times.p95, p(0.95)?.value, p(0.95)?.error)}
        <form class="promise" onSubmit={(event) => event.preventDefault()}>
          <label class="field">
            <span>{words.times.begins}</span>
            <input
              type="text"
              size={6}
              inputMode="numeric"
              value={begins}
              aria-invalid={!/^\s*\d{1,2}:\d\d\s*$/.test(begins)}
              onInput={({ currentTarget }) => setBegins(currentTarget.value)}
            />
          </label>
          <label class="field">
            <span>{words.times.by}</span>
            <input
              type="text"
              size={10}
              placeholder={words.times.byHint}
              value={by}
              aria-invalid={isWrong}
              aria-describedby="promise"
              onInput={({ currentTarget }) => setBy(currentTarget.value)}
            />
          </label>
          <output id="promise" class="figure" aria-live="polite">
            {until === undefined ? (
              <small>{isWrong ? words.times.byWrong : words.times.noBy}</small>
            ) : (
              <>
                <b>{figures.percent(chanceWithin(quantiles, until), 1)}</b>
                <small>
                  {words.times.byChance(
                    `${figures.clock(start + until)} (${figures.minutes(until)})`,
                    figures.percent(chanceWithin(quantiles, until), 1),
                  )}
                </small>
              </>
            )}
          </output>
        </form>
      </div>
      <FinishDrawing
        quantiles={quantiles}
        planned={finish.planned}
        begins={start}
        {...(until === undefined ? {} : { by: until })}
        {...(beside === undefined ? {} : { beside: beside.quantiles })}
      />
      {beside === undefined ? null : <p class="small soft">{words.times.besideKey}</p>}
      <details>
        <summary>{words.times.asTable}</summary>
        <table class="percentiles">
          <thead>
            <tr>
              <th scope="col">{words.times.share}</th>
              <th scope="col">{words.times.within}</th>
              <th scope="col">{words.times.clock}</th>
              <th scope="col">{words.times.error}</th>
            </tr>
          </thead>
          <tbody>
            {finish.percentiles.map(({ share, value, error }) => (
              <tr key={share}>
                <th scope="row">{figures.percent(share)}</th>
                <td>{figures.minutes(value)}</td>
                <td>{figures.clock(start + value)}</td>
                <td>{figures.number(error, 1)} min</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
      <Help title={words.times.helpPercentile}>{words.times.helpPercentileText}</Help>
      <Waits finish={finish} isLast={said.isLast} />
    </div>
  );
};

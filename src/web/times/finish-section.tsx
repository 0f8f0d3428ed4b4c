// Owns the part of the sheet that answers when it is done: the promise that is asked about, the figures, the drawing, what the finish waits for.

import { useMemo } from "preact/hooks";
import type { FinishSaid, Taught } from "../engine/times-asked.ts";
import { useOrderState } from "../order/order-state.ts";
import { usePlan } from "../order/use-plan.ts";
import { useFigures } from "../sheet/figures.ts";
import { Failed, Notice } from "../sheet/states.tsx";
import { useTyped } from "../sheet/typed.ts";
import { type Lasting, Stopped, useLasting } from "../shop/lasting.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { chanceWithin, readTime } from "./chances.ts";
import { FinishDrawing } from "./finish-drawing.tsx";
import { Help } from "./help.tsx";
import { Waits } from "./waits.tsx";

const NOTHING: Taught = {};
const SEVEN = "07:00";

/** The finish of the order around, with what runs taught where it is given. */
const useFinish = (taught: Taught | undefined): Lasting<FinishSaid> => {
  const { order } = usePlan();
  const [{ crew }] = useOrderState();
  const body = useMemo(
    () =>
      order === undefined || taught === undefined
        ? undefined
        : { order, ...(crew === undefined ? {} : { crew }), taught },
    [order, crew, taught],
  );
  return useLasting("finish", body, taught === NOTHING ? "finish" : "finish as taught");
};

export const FinishSection = ({ taught }: { readonly taught: Taught | undefined }) => {
  const words = useWords();
  const plain = useFinish(NOTHING);
  const learnt = useFinish(taught);
  const shown = taught === undefined ? plain : learnt;
  const { data, error } = shown;
  return (
    <section class="finish" aria-labelledby="finish">
      <h1 id="finish">{words.times.title}</h1>
      {shown.isComputing ? <Doing said={data} stop={shown.stop} /> : null}
      {error instanceof Stopped && !shown.isComputing ? (
        <Notice what={words.times.stopped} mend="">
          <button type="button" onClick={shown.again}>
            {words.sheet.again}
          </button>
        </Notice>
      ) : error !== null && !shown.isComputing ? (
        <Failed error={error} again={shown.again} />
      ) : data === undefined ? null : (
        <Found
          said={data}
          isBefore={shown.isBefore}
          isStopped={shown.isStopped}
          again={shown.again}
          {...(taught === undefined ? {} : { beside: plain.data })}
        />
      )}
    </section>
  );
};

/** Where a computation is, in words. */
const Doing = ({ said, stop }: { readonly said: FinishSaid | undefined; readonly stop: () => void }) => {
  const words = useWords();
  const figures = useFigures();
  const says =
    said?.doing === "simulating"
      ? words.times.simulating
      : said?.doing !== "scheduling"
        ? words.times.releasing
        : said.best === undefined
          ? words.times.scheduling
          : words.times.schedulingSo(figures.minutes(said.best.elapsed), figures.minutes(said.best.bound));
  return (
    <div class="doing busy" role="status">
      <p>{says}</p>
      <button type="button" class="plain" onClick={stop}>
        {words.sheet.cancel}
      </button>
    </div>
  );
};

const Found = ({
  said,
  beside,
  isBefore,
  isStopped,
  again,
}: {
  readonly said: FinishSaid;
  readonly beside?: FinishSaid | undefined;
  readonly isBefore: boolean;
  readonly isStopped: boolean;
  readonly again: () => void;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { base } = useModel();
  const [{ begins: ordered }] = useOrderState();
  const name = `${base.from}/${base.id}`;
  const [begins, setBegins] = useTyped(`begins ${name}`, ordered?.slice(11, 16) ?? SEVEN);
  const [by, setBy] = useTyped(`done by ${name}`, "");
  const { finish, quantiles, faults, none } = said;
  if (faults.length > 0)
    return <Notice what={faults.map(({ what }) => what).join("; ")} mend={faults.map(({ mend }) => mend).join(" ")} />;
  if (none !== undefined) return <Notice what={words.times.none[none]} mend={words.times.noneMend} />;
  if (finish === undefined)
    return !isStopped ? null : (
      <p class="small soft">
        {words.times.stopped}{" "}
        <button type="button" class="plain" onClick={again}>
          {words.sheet.again}
        </button>
      </p>
    );
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
        {...(beside === undefined || beside.quantiles.length === 0 ? {} : { beside: beside.quantiles })}
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
      <Waits finish={finish} />
    </div>
  );
};

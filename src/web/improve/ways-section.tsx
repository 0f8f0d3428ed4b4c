// Owns the ways to mend side by side: which job stands for each, when its parts are there, and how often each way is the first.

import { useMemo } from "preact/hooks";
import type { WayToMend } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { Taught, WaysAsked } from "../engine/times-asked.ts";
import { useOrderState } from "../order/order-state.ts";
import { Failed, Notice } from "../sheet/states.tsx";
import { useTyped } from "../sheet/typed.ts";
import { Stopped, useLasting } from "../shop/lasting.ts";
import { readTime } from "../times/chances.ts";
import { Help } from "../times/help.tsx";
import { useWords } from "../words/words.ts";
import { WaysDrawing } from "./ways-drawing.tsx";

const WAYS: readonly WayToMend[] = ["in place", "out", "swap"];

interface Typed {
  readonly job: string;
  readonly lead: string;
  readonly mend: string;
}
type Form = Readonly<Record<WayToMend, Typed>>;

const typed = (job: string | undefined): Typed => ({ job: job ?? "", lead: "", mend: "" });

/** What a person would compare: the swap the file has with the first job that is none. */
const usual = ({ jobs }: Vehicle): Form => {
  const swap = jobs.find((job) => job.swap.length > 0);
  const own = jobs.filter((job) => job.swap.length === 0);
  return {
    "in place": typed(swap === undefined ? own[1]?.id : undefined),
    out: typed(own[0]?.id),
    swap: typed(swap?.id),
  };
};

/** Minutes of a time as it is typed; a time of day is none. */
const minutesOf = (text: string): number | undefined => (text.includes(":") ? undefined : readTime(text, 0));

const isWrong = (text: string): boolean => text.trim() !== "" && !((minutesOf(text) ?? 0) > 0);

export const WaysSection = ({
  vehicle,
  name,
  taught,
}: {
  readonly vehicle: Vehicle;
  readonly name: string;
  readonly taught: Taught;
}) => {
  const words = useWords();
  const [{ crew }] = useOrderState();
  const first = useMemo(() => usual(vehicle), [vehicle]);
  const [form, setForm] = useTyped(`ways form ${name}`, first);
  const [asked, setAsked] = useTyped<Form | undefined>(`ways asked ${name}`, undefined);
  const body = useMemo((): WaysAsked | undefined => {
    if (asked === undefined) return undefined;
    const ways = WAYS.flatMap((way) => {
      const { job, lead, mend } = asked[way];
      if (!vehicle.jobs.some(({ id }) => id === job)) return [];
      const [parts, repair] = [minutesOf(lead) ?? 0, minutesOf(mend) ?? 0];
      return [{ way, job, ...(parts > 0 ? { lead: parts } : {}), ...(repair > 0 ? { mend: repair } : {}) }];
    });
    return ways.length < 2 ? undefined : { ways, ...(crew === undefined ? {} : { crew }), taught };
  }, [asked, vehicle, crew, taught]);
  const answer = useLasting("ways", body);
  const chosen = WAYS.filter((way) => form[way].job !== "").length;
  const faulty = WAYS.some((way) => isWrong(form[way].lead) || isWrong(form[way].mend));
  const isAsked = body !== undefined && JSON.stringify(form) === JSON.stringify(asked);
  const set = (way: WayToMend, part: Partial<Typed>) => setForm({ ...form, [way]: { ...form[way], ...part } });
  return (
    <section class="ways" aria-labelledby="ways">
      <h2 id="ways">{words.improve.ways}</h2>
      <p class="soft">{words.improve.waysLead}</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (!faulty && chosen > 1) setAsked(form);
        }}
      >
        {WAYS.map((way) => (
          <fieldset key={way}>
            <legend>{words.improve.wayNames[way]}</legend>
            <label class="field">
              <span>{words.improve.wayJob}</span>
              <select value={form[way].job} onChange={({ currentTarget }) => set(way, { job: currentTarget.value })}>
                <option value="">{words.improve.noJob}</option>
                {vehicle.jobs.map(({ id, label }) => (
                  <option key={id} value={id}>
                    {label}
                  </option>
                ))}
              </select>
            </label>
            <label class="field">
              <span>{words.improve.parts}</span>
              <input
                type="text"
                size={13}
                placeholder={words.improve.leadHint}
                aria-invalid={isWrong(form[way].lead)}
                value={form[way].lead}
                onInput={({ currentTarget }) => set(way, { lead: currentTarget.value })}
              />
            </label>
            <label class="field">
              <span>{words.improve.mend}</span>
              <input
                type="text"
                size={13}
                placeholder={words.improve.mendHint}
                aria-invalid={isWrong(form[way].mend)}
                value={form[way].mend}
                onInput={({ currentTarget }) => set(way, { mend: currentTarget.value })}
              />
            </label>
          </fieldset>
        ))}
        <p class="small" role="status">
          {faulty ? words.improve.timeWrong : chosen < 2 ? words.improve.oneWay : ""}
        </p>
        <button type="submit" disabled={faulty || chosen < 2 || isAsked}>
          {words.improve.reckon}
        </button>
      </form>
      {answer.isComputing ? (
        <div class="doing busy">
          <p role="status">
            {answer.data?.at === undefined || answer.data.of === undefined
              ? words.improve.waysComputing
              : words.improve.waysPlanning(answer.data.at, answer.data.of)}
          </p>
          <button type="button" onClick={answer.stop}>
            {words.sheet.cancel}
          </button>
        </div>
      ) : answer.error instanceof Stopped ? (
        <Notice what={words.times.stopped} mend="">
          <button type="button" onClick={answer.again}>
            {words.sheet.again}
          </button>
        </Notice>
      ) : answer.error !== null ? (
        <Failed error={answer.error} again={answer.again} />
      ) : null}
      {body === undefined || answer.data?.compared === undefined ? null : (
        <WaysDrawing compared={answer.data.compared} ms={answer.data.ms} isBefore={answer.isBefore} />
      )}
      <Help title={words.improve.helpWays}>{words.improve.helpWaysText}</Help>
    </section>
  );
};

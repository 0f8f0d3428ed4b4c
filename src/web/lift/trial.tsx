// Owns the trial lift: readings as they are called out, and what they say: that nothing holds it any more, or where to look first.

import { useMemo, useState } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import { nameIn } from "../../plan/index.ts";
import type { ReadingGiven, TrialSaid } from "../engine/lifts.ts";
import { usePlan } from "../order/use-plan.ts";
import { useFigures } from "../sheet/figures.ts";
import { useAnswer } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import type { Asking } from "./asking.ts";
import { useSaying } from "./checks.tsx";
import { type Lifted, Suspected } from "./suspected.tsx";
import { Views } from "./views.tsx";

/** A reading in the address: newtons;degrees;degrees;metres, what was not read left empty. */
const readOne = (text: string): ReadingGiven | undefined => {
  const [load, pitch, roll, rise] = text.split(";").map((part) => (part === "" ? undefined : Number(part)));
  if (load === undefined || !(load > 0)) return undefined;
  return {
    load,
    ...(pitch === undefined ? {} : { pitch }),
    ...(roll === undefined ? {} : { roll }),
    ...(rise === undefined ? {} : { rise }),
  };
};

const FIELDS = ["load", "pitch", "roll", "rise"] as const;

export const Trial = ({ task, asking }: { readonly task: string; readonly asking: Asking }) => {
  const words = useWords();
  const figures = useFigures();
  const { order, vehicle, release } = usePlan();
  const plan = release.data?.plan;
  const lifted = useMemo(
    () => (vehicle === undefined || plan === undefined ? undefined : { vehicle, plan, task }),
    [vehicle, plan, task],
  );
  const search = useSearch();
  const [path, navigate] = useLocation();
  const [fault, setFault] = useState<string>();
  const given = useMemo(() => new URLSearchParams(search).getAll("reading"), [search]);
  const readings = useMemo(() => given.flatMap((text) => readOne(text) ?? []), [given]);
  const body = useMemo(
    () =>
      order === undefined || readings.length === 0
        ? undefined
        : { order, task, readings, ...(asking.taken === undefined ? {} : { taken: asking.taken }) },
    [order, task, readings, asking],
  );
  const trial = useAnswer("trial", body);
  const nameOf = (id: string) => (vehicle === undefined ? id : nameIn(vehicle, id));

  const put = (texts: readonly string[]) => {
    const next = new URLSearchParams(search);
    next.delete("reading");
    for (const text of texts) next.append("reading", text);
    navigate(`${path}?${next}`);
  };
  /** A figure in the unit that is shown, to its base unit. */
  const base = (name: (typeof FIELDS)[number], value: number): number => {
    if (name === "load") return value / figures.inUnit(1, "force");
    return name === "rise" ? value / figures.inUnit(1, "short") : value;
  };
  const submit = (form: HTMLFormElement) => {
    const parts = FIELDS.map((name) => {
      const text = String(new FormData(form).get(name) ?? "")
        .trim()
        .replace(",", ".")
        .replace("−", "-");
      return text === "" ? "" : String(base(name, Number(text)));
    });
    if (parts.some((part) => part === "NaN")) return setFault(words.lift.noFigure);
    if (!(Number(parts[0]) > 0)) return setFault(words.lift.noReading);
    setFault(undefined);
    form.reset();
    put([...given, parts.join(";")]);
  };
  const units = { load: figures.unit("force"), pitch: "°", roll: "°", rise: figures.unit("short") } as const;
  return (
    <section aria-labelledby="trial">
      <h2 id="trial">{words.lift.trial}</h2>
      <p class="soft">{words.lift.trialHow}</p>
      <form
        class="reading"
        onSubmit={(event) => {
          event.preventDefault();
          submit(event.currentTarget);
        }}
      >
        {FIELDS.map((name) => (
          <label class="field" key={name}>
            <span>
              {words.lift.reading[name]}, {units[name]}
            </span>
            <input name={name} inputMode="decimal" size={7} required={name === "load"} autocomplete="off" />
          </label>
        ))}
        <button type="submit">{words.lift.weigh}</button>
      </form>
      {fault === undefined ? null : (
        <p class="notice" role="alert">
          {fault}
        </p>
      )}
      {readings.length === 0 ? null : (
        <ul class="readings">
          {readings.map(({ load, pitch, roll, rise }, n) => (
            <li key={given[n]}>
              {[
                figures.measure(load, "force"),
                pitch === undefined ? "" : `${words.lift.reading.pitch} ${figures.degrees(pitch)}`,
                roll === undefined ? "" : `${words.lift.reading.roll} ${figures.degrees(roll)}`,
                rise === undefined ? "" : `${words.lift.reading.rise} ${figures.measure(rise, "short")}`,
              ]
                .filter((text) => text !== "")
                .join(", ")}{" "}
              <button type="button" class="plain" onClick={() => put(given.filter((_, i) => i !== n))}>
                {words.lift.forget}
              </button>
            </li>
          ))}
        </ul>
      )}
      {body === undefined ? null : trial.error !== null ? (
        <p>{trial.error.message}</p>
      ) : trial.data === undefined || trial.isPlaceholderData ? (
        <p class="busy soft">{words.sheet.computing}</p>
      ) : (
        <Weighed said={trial.data} readings={readings} nameOf={nameOf} lifted={lifted} />
      )}
    </section>
  );
};

/** Ties that fit on the sheet, of those that are not all but excluded. */
const SHOWN = 8;
const LEAST = 0.001;
/** From this chance on it is said how large a mass it would be. */
const WORTH_A_MASS = 0.01;
/** Marked on the chart is what is as likely as this, and the likeliest where it is likelier tied than free. */
const MARKED = 0.02;

/** What the readings say. @param nameOf what a connection is called */
export const Weighed = ({
  said,
  readings,
  nameOf,
  lifted,
}: {
  readonly said: TrialSaid;
  readonly readings: readonly ReadingGiven[];
  readonly nameOf: (id: string) => string;
  /** What is lifted, for the chart; absent while its file is being read. */
  readonly lifted: Lifted | undefined;
}) => {
  const words = useWords();
  const figures = useFigures();
  const say = useSaying();
  const { answer, why, stop } = said;
  // Without any answer there is no load to stop at either.
  const over = stop > 0 ? readings.find(({ load }) => load > stop) : undefined;
  const stopped =
    over === undefined ? null : (
      <p class="stop">{words.lift.stopNow(figures.measure(over.load, "force"), figures.measure(stop, "force"))}</p>
    );
  if (answer === undefined)
    return (
      <div class="weighed" aria-live="polite">
        {stopped}
        <p class="notice">
          {why === undefined ? words.lift.notHung : words.lift.notWeighed(why.map((one) => say(one)))}
        </p>
      </div>
    );
  const known = new Map(said.ties.map((tie) => [tie.id, tie]));
  const label = (id: string) => known.get(id)?.label ?? nameOf(id);
  const likely = answer.ties.filter(({ probability }) => probability >= LEAST).slice(0, SHOWN);
  const suspects = answer.suspects.filter(({ probability }) => probability >= LEAST);
  const strange = answer.misfit.value > 2 * answer.misfit.readings + 6;
  const chance = (probability: number) =>
    probability > 0.999
      ? words.lift.nearlyAll
      : probability < 0.001
        ? words.lift.nearlyNone
        : figures.percent(probability, probability < 0.1 ? 1 : 0);
  const more = answer.suspects.reduce((sum, { probability }) => sum + probability, answer.unknownMass.probability);
  const marked = new Map(
    likely.flatMap(({ id, probability }, n) =>
      probability >= MARKED || (n === 0 && answer.free < 0.5)
        ? [[id, { rank: n + 1, chance: chance(probability) }]]
        : [],
    ),
  );
  const { standing } = answer;
  const held = Math.max(0, 1 - answer.free - more - standing);
  const verdict = (): string => {
    if (answer.free >= 0.5) return words.lift.free(chance(answer.free));
    if (standing >= Math.max(held, more)) return words.lift.standing(chance(standing));
    return held >= more ? words.lift.held(chance(held)) : words.lift.heavier(chance(more));
  };
  const early = answer.expected.flatMap((one, r) =>
    one.early === undefined ? [] : [{ ...one.early, rise: readings[r]?.rise ?? 0 }],
  );
  return (
    <div class="weighed" aria-live="polite">
      {stopped}
      <p class={answer.free >= 0.5 ? "verdict-free" : "verdict-held"}>{verdict()}</p>
      {early.map(({ rise, onFeet, most, isMore }, n) => (
        <p key={`${n} ${rise}`} class="notice">
          {words.lift.early(figures.measure(rise, "short"), figures.measure(onFeet, "force"))}
          {isMore ? ` ${words.lift.earlyMore(figures.measure(most, "force"))}` : ""}
        </p>
      ))}
      {strange ? <p class="notice">{words.lift.strange(figures.number(Math.sqrt(answer.misfit.value), 1))}</p> : null}
      {likely.length === 0 ? null : (
        <>
          <h3>{words.lift.look}</h3>
          <ol class="suspects">
            {likely.map(({ id, probability, pull }, n) => (
              <li key={id}>
                <b>{n + 1}</b>
                <span class="likely" aria-hidden="true">
                  <i style={{ width: `${100 * probability}%` }} />
                </span>
                <span>
                  {label(id)}
                  <small class="soft">
                    {" "}
                    {[known.get(id)?.position ?? "", known.get(id)?.hidden === true ? words.lift.hidden : ""]
                      .filter((text) => text !== "")
                      .join(", ")}
                  </small>
                </span>
                <small>
                  {chance(probability)}, {words.lift.pulls(figures.measure(pull, "force"))}
                </small>
              </li>
            ))}
          </ol>
          {lifted === undefined || marked.size === 0 ? null : (
            <Suspected lifted={lifted} suspects={marked} nameOf={label} />
          )}
        </>
      )}
      <p class="small">
        {words.lift.unknownMass(
          chance(answer.unknownMass.probability),
          answer.unknownMass.probability < WORTH_A_MASS
            ? undefined
            : figures.measure(answer.unknownMass.kilograms, "mass"),
        )}
        {suspects.map(({ id, probability }) => `; ${say(said.suspects[id]!)}: ${chance(probability)}`).join("")}
      </p>
      {answer.cannotTell.length === 0 ? null : (
        <p class="small soft">
          {words.lift.cannotTell(
            answer.cannotTell
              .map(({ id, slackLeft }) => `${label(id)} (${figures.measure(slackLeft, "short")})`)
              .join(", "),
          )}
        </p>
      )}
      {said.noPlace.length === 0 ? null : (
        <p class="small soft">{words.lift.noPlace(said.noPlace.map(label).join(", "))}</p>
      )}
      <Views views={said.views} />
      <details>
        <summary>{words.lift.assumedHere(said.assumed.length)}</summary>
        <ul class="because">
          {said.assumed.map((one) => (
            <li key={one.is}>≈ {say(one)}</li>
          ))}
        </ul>
      </details>
      <p class="small soft">{words.lift.likelyIsNoProof}</p>
    </div>
  );
};

// Owns the page of the trial lift: who signals, who must not be where, the reading as it is called out, the hold, what the figures say, and stopping the load.

import { useEffect, useState } from "preact/hooks";
import { useSearch } from "wouter-preact";
import { type BodyOf, type BriefLift, Names } from "../../ledger/index.ts";
import { readQuantity } from "../../quantity/index.ts";
import { Weighed } from "../lift/trial.tsx";
import { useFigures } from "../sheet/figures.ts";
import { useEngine } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { Approval } from "./approval.tsx";
import { useWork } from "./work.tsx";

/** Seconds that the load is held and watched: common practice is a pause of that order. */
const HOLD = 30;

export const Aloft = () => {
  const words = useWords();
  const { book } = useWork();
  const asked = new URLSearchParams(useSearch()).get("lift");
  const lift = book.brief.lifts.find(({ task }) => task === asked) ?? book.brief.lifts[0];
  return lift === undefined ? <p>{words.gates.none}</p> : <Trial key={lift.task} lift={lift} />;
};

const Trial = ({ lift }: { readonly lift: BriefLift }) => {
  const words = useWords();
  const figures = useFigures();
  const { book, me, enter } = useWork();
  const { ledger, brief } = book;
  const names = new Names(brief);
  const stopped = ledger
    .list("hours", "paused", "resumed")
    // Somebody else's waiting that ends does not let a stopped load go on.
    .findLast(({ body }) => body.about === lift.task && (body.kind === "resumed" || body.cause === "other"));
  const isStopped = stopped?.body.kind === "paused";
  const reading = ledger.list("gates", "trial").findLast(({ body }) => body.lift === lift.task)?.body;
  const there = lift.empties.flatMap((place) =>
    [...ledger.claim("position", place.id).people.keys()].map((person) => ({ place, person })),
  );
  if (isStopped)
    return (
      <div class="aloft stopped">
        <h1>{words.gates.stopped}</h1>
        <button type="button" class="act" onClick={() => void enter({ kind: "resumed", about: lift.task })}>
          {words.gates.goOn}
        </button>
      </div>
    );
  return (
    <div class="aloft">
      <h1>
        {words.gates.trial}: {names.label(lift.task)}
      </h1>
      <Approval lift={lift.task} />
      {lift.empties.length === 0 ? null : (
        <p class={there.length > 0 ? "notice" : ""}>
          {words.gates.keepAway(lift.empties.map(({ label }) => label).join(", "))}
          {there.map(({ place, person }) => (
            <b key={`${place.id} ${person}`}> {words.gates.somebody(names.person(person), place.label)}.</b>
          ))}
        </p>
      )}
      <p>
        {lift.band === undefined
          ? words.gates.noBand
          : words.gates.band(figures.measure(lift.band.low, "force"), figures.measure(lift.band.high, "force"))}
      </p>
      {me === undefined ? null : (
        <button
          type="button"
          class="main act"
          onClick={() => void enter({ kind: "paused", cause: "other", about: lift.task, text: words.gates.stop })}
        >
          {words.gates.stop}
        </button>
      )}
      <Reading lift={lift} />
      <Hold />
      {reading === undefined ? null : <Verdict planned={lift} reading={reading} />}
      <p class="caution">{words.gates.caution}</p>
    </div>
  );
};

/** The reading, in the unit that the device prefers; what was not read is left empty. */
const Reading = ({ lift }: { readonly lift: BriefLift }) => {
  const words = useWords();
  const figures = useFigures();
  const { me, enter } = useWork();
  const [typed, setTyped] = useState({ load: "", pitch: "", roll: "" });
  if (me === undefined) return null;
  const unit = figures.unit("force");
  const given = (text: string) => text.trim().replace(",", ".").replace("−", "-");
  return (
    <form
      class="asking reading"
      onSubmit={(event) => {
        event.preventDefault();
        const [pitch, roll] = [given(typed.pitch), given(typed.roll)];
        void enter({
          kind: "trial",
          lift: lift.task,
          load: `${given(typed.load)} ${unit}`,
          ...(pitch === "" ? {} : { pitch: `${pitch} deg` }),
          ...(roll === "" ? {} : { roll: `${roll} deg` }),
        }).then((isEntered) => isEntered && setTyped({ load: "", pitch: "", roll: "" }));
      }}
    >
      {(["load", "pitch", "roll"] as const).map((name) => (
        <label key={name} class="field">
          <span>
            {words.gates[name]} ({name === "load" ? unit : "°"})
          </span>
          <input
            inputMode="decimal"
            required={name === "load"}
            pattern="[\-−]?[0-9]+([.,][0-9]+)?"
            value={typed[name]}
            onInput={({ currentTarget }) => {
              const { value } = currentTarget;
              setTyped((before) => ({ ...before, [name]: value }));
            }}
          />
        </label>
      ))}
      <button type="submit" class="main">
        {words.gates.enterReading}
      </button>
    </form>
  );
};

/** The pause with the load just off: counted down, and said when it is over. */
const Hold = () => {
  const words = useWords();
  const [until, setUntil] = useState<number>();
  const [now, setNow] = useState(Date.now());
  const left = until === undefined ? undefined : Math.max(0, Math.ceil((until - now) / 1000));
  useEffect(() => {
    if (until === undefined || left === 0) return;
    const clock = setInterval(() => setNow(Date.now()), 250);
    return () => clearInterval(clock);
  }, [until, left]);
  return (
    <p class="row">
      <button
        type="button"
        onClick={() => {
          setNow(Date.now());
          setUntil(Date.now() + HOLD * 1000);
        }}
      >
        {words.gates.hold}
      </button>
      {left === undefined ? null : (
        <output class="large">{left === 0 ? words.gates.held : words.gates.holding(left)}</output>
      )}
    </p>
  );
};

const read = (text: string | undefined, dimension: "force" | "angle"): number | undefined => {
  const reading = text === undefined ? undefined : readQuantity(text, dimension);
  return reading !== undefined && "value" in reading ? reading.value.nominal : undefined;
};
const DEGREE = Math.PI / 180;

/** What the figures say: the load against its band, and where it may still hold. */
const Verdict = ({
  planned,
  reading: { load, pitch, roll },
}: {
  readonly planned: BriefLift;
  readonly reading: BodyOf<"trial">;
}) => {
  const words = useWords();
  const { book } = useWork();
  const newtons = read(load, "force") ?? 0;
  const [along, across] = [read(pitch, "angle"), read(roll, "angle")];
  const readings = [
    {
      load: newtons,
      ...(along === undefined ? {} : { pitch: along / DEGREE }),
      ...(across === undefined ? {} : { roll: across / DEGREE }),
    },
  ];
  const trial = useEngine("trial", book.kept.files, { order: book.kept.asked, task: planned.task, readings });
  const says = words.gates.says(load, pitch, roll);
  const { band } = planned;
  const names = new Names(book.brief);
  return (
    <section class="verdict" aria-live="polite">
      <p class="large">{says}</p>
      {"speechSynthesis" in globalThis ? (
        <button type="button" onClick={() => speechSynthesis.speak(new SpeechSynthesisUtterance(says))}>
          {words.gates.aloud}
        </button>
      ) : null}
      {band === undefined ? null : (
        <p>
          <b>
            {newtons > band.high
              ? words.gates.above(load)
              : newtons < band.low
                ? words.gates.below(load)
                : words.gates.inBand(load)}
          </b>
        </p>
      )}
      {trial.data === undefined || trial.isPlaceholderData ? (
        <p class="busy">{words.gates.weighing}</p>
      ) : (
        <Weighed said={trial.data} readings={readings} nameOf={(id) => names.label(id)} />
      )}
    </section>
  );
};

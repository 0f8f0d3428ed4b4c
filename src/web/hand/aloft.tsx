// Owns the page of the trial lift: who signals, who must not be where, the reading as it is called out, the hold, what the figures say, and stopping the load.

import { useEffect, useState } from "preact/hooks";
import { useSearch } from "wouter-preact";
import { actsOf, type BodyOf, type BriefLift, Names, stopOf } from "../../ledger/index.ts";
import { readQuantity } from "../../quantity/index.ts";
import { Weighed } from "../lift/trial.tsx";
import { useFigures } from "../sheet/figures.ts";
import { useEngine } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { Approval } from "./approval.tsx";
import { GateSince, gateWordOf } from "./gate-since.tsx";
import { useTyped } from "./half-done.ts";
import { stoodBy } from "./parting.tsx";
import { useWork } from "./work.tsx";

/** Seconds that the load is held and watched: common practice is a pause of that order. */
const HOLD = 30;

export const Aloft = () => {
  const words = useWords();
  const { book } = useWork();
  const asked = new URLSearchParams(useSearch()).get("lift");
  const lift = book.brief.lifts.find(({ task }) => task === asked) ?? book.brief.lifts[0];
  return lift === undefined ? <p>{words.gates.noLift}</p> : <Trial key={lift.task} lift={lift} />;
};

const Trial = ({ lift }: { readonly lift: BriefLift }) => {
  const words = useWords();
  const figures = useFigures();
  const { book, me, enter } = useWork();
  const { ledger, brief } = book;
  const names = new Names(brief);
  const reading = ledger.list("gates", "trial").findLast(({ body }) => body.lift === lift.task)?.body;
  const there = lift.empties.flatMap((place) =>
    [...ledger.claim("position", place.id).people.keys()].map((person) => ({ place, person })),
  );
  const step = actsOf(ledger).find(({ gate }) => gate?.gate === "lift" && gate.lift === lift.task);
  const word = step === undefined ? undefined : gateWordOf(book, step);
  return (
    <div class="aloft">
      <h1>
        {words.gates.trial}: {names.label(lift.task)}
      </h1>
      {word === undefined ? null : <GateSince word={word} />}
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
          class="main act stop-load"
          onClick={() => void enter(stopOf(lift.task, words.gates.stop))}
        >
          {words.gates.stop}
        </button>
      )}
      <div class="called">
        <Reading lift={lift} />
        <Hold />
      </div>
      {reading === undefined ? null : <Verdict planned={lift} reading={reading} />}
      <p class="caution">{words.gates.caution}</p>
    </div>
  );
};

const FIELDS = ["load", "pitch", "roll", "rise"] as const;
type Field = (typeof FIELDS)[number];
/** Tilts have a sign, and the keys for figures that a tablet shows may have none. */
const SIGNED: ReadonlySet<Field> = new Set(["pitch", "roll"]);
const NOTHING_READ: Readonly<Record<Field, string>> = { load: "", pitch: "", roll: "", rise: "" };

/** The reading, in the units that the device prefers; what was not read is left empty. */
const Reading = ({ lift }: { readonly lift: BriefLift }) => {
  const words = useWords();
  const figures = useFigures();
  const { me, enter } = useWork();
  const [typed, setTyped] = useTyped(`reading ${lift.task}`, NOTHING_READ);
  if (me === undefined) return null;
  const units: Readonly<Record<Field, string>> = {
    load: figures.unit("force"),
    pitch: "°",
    roll: "°",
    rise: figures.unit("short"),
  };
  const set = (name: Field, value: string) => setTyped({ ...typed, [name]: value });
  const given = (name: Field, unit = units[name]) => {
    const figure = typed[name].trim().replace(",", ".").replace("−", "-");
    return figure === "" ? {} : { [name]: `${figure} ${unit}` };
  };
  return (
    <form
      class="asking called-out"
      onSubmit={(event) => {
        event.preventDefault();
        const body = { ...given("pitch", "deg"), ...given("roll", "deg"), ...given("rise") };
        void enter({ kind: "trial", lift: lift.task, load: "", ...given("load"), ...body }).then((isEntered) => {
          if (!isEntered) return;
          setTyped(NOTHING_READ);
          // On a small screen what the figures say is drawn beneath the edge.
          requestAnimationFrame(() => document.querySelector(".aloft .verdict")?.scrollIntoView({ block: "nearest" }));
        });
      }}
    >
      {FIELDS.map((name) => (
        <div key={name} class="figure-read">
          <label class="field">
            <span>
              {words.gates[name]} ({units[name]})
            </span>
            <input
              inputMode="decimal"
              autoComplete="off"
              required={name === "load"}
              pattern={SIGNED.has(name) ? "[\\-−]?[0-9]+([.,][0-9]+)?" : "[0-9]+([.,][0-9]+)?"}
              value={typed[name]}
              onInput={({ currentTarget: { value } }) => set(name, value)}
            />
          </label>
          {SIGNED.has(name) ? (
            <button
              type="button"
              aria-label={`${words.gates[name]}: ${words.gates.sign}`}
              onClick={() => set(name, /^[-−]/.test(typed[name]) ? typed[name].slice(1) : `-${typed[name]}`)}
            >
              ±
            </button>
          ) : null}
        </div>
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

const read = (text: string | undefined, dimension: "force" | "angle" | "length"): number | undefined => {
  const reading = text === undefined ? undefined : readQuantity(text, dimension);
  return reading !== undefined && "value" in reading ? reading.value.nominal : undefined;
};
const DEGREE = Math.PI / 180;
const NOTHING = {};

/** What the figures say: the load against its band, and where it may still hold. */
const Verdict = ({
  planned,
  reading: { load, pitch, roll, rise },
}: {
  readonly planned: BriefLift;
  readonly reading: BodyOf<"trial">;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { book } = useWork();
  const newtons = read(load, "force") ?? 0;
  const [along, across, up] = [read(pitch, "angle"), read(roll, "angle"), read(rise, "length")];
  const readings = [
    {
      load: newtons,
      ...(along === undefined ? {} : { pitch: along / DEGREE }),
      ...(across === undefined ? {} : { roll: across / DEGREE }),
      ...(up === undefined ? {} : { rise: up }),
    },
  ];
  const { files, plan } = book.kept;
  const { vehicle } = useEngine("read", files, NOTHING).data ?? {};
  const trial = useEngine("trial", files, { order: book.kept.asked, task: planned.task, readings });
  const tilt = (angle: number | undefined) => (angle === undefined ? undefined : figures.degrees(angle / DEGREE));
  const says = words.gates.says(load, tilt(along), tilt(across));
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
        <Weighed
          said={trial.data}
          readings={readings}
          nameOf={(id) => names.label(id)}
          lifted={
            vehicle === undefined ? undefined : { vehicle, plan, task: planned.task, stood: stoodBy(book.ledger) }
          }
        />
      )}
    </section>
  );
};

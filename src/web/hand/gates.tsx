// Owns the page of the gates: of each what is missing, where and who could do it; passed by the rules alone, and by a button that is held.

import { useMemo, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { askGate, type GateAnswer, type GateName, Names, wrongPasses } from "../../ledger/index.ts";
import { passGate } from "../device/entering.ts";
import { useFigures } from "../sheet/figures.ts";
import { HeldButton } from "../sheet/held-button.tsx";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { Approval, Override } from "./approval.tsx";
import { byPlace } from "./by-place.ts";
import { Contradictions } from "./contradictions.tsx";
import { useSaying } from "./rule-words.ts";
import { useWork } from "./work.tsx";

export const Gates = () => {
  const words = useWords();
  const { book } = useWork();
  const { ledger, brief } = book;
  const names: readonly GateName[] = [
    ...(brief.first.length + brief.energies.length === 0 ? [] : (["isolation"] as const)),
    ...(brief.lifts.length === 0 ? [] : (["lift"] as const)),
    "start-up",
    "hand-over",
  ];
  // A device never decides: what is open here is open as far as it has seen.
  // The ledger stays the same one: that it has more is told by its size.
  const { size } = ledger;
  const wrong = useMemo(() => new Set(wrongPasses(ledger).flatMap(({ entries }) => entries)), [ledger, size]);
  const answers = names.flatMap((gate) => askGate(ledger, gate, { decides: false }));
  return (
    <div class="gates">
      <Contradictions />
      {answers.map((answer) => (
        <Gate key={`${answer.gate} ${answer.lift ?? ""}`} answer={answer} wrong={wrong} />
      ))}
      <p class="caution">{words.gates.caution}</p>
    </div>
  );
};

/** @param wrong entries of passings at which something was missing, by all that is known now */
const Gate = ({ answer, wrong }: { readonly answer: GateAnswer; readonly wrong: ReadonlySet<string> }) => {
  const words = useWords();
  const figures = useFigures();
  const { book, line, me, tell } = useWork();
  const [isBusy, setBusy] = useState(false);
  const { ledger, brief, run } = book;
  const names = new Names(brief);
  const { gate, lift, missing, open, phrases } = answer;
  const say = useSaying();
  const passed = ledger.list("gates", "passed").findLast(({ body }) => body.gate === gate && body.lift === lift);
  const title = `${words.gates.names[gate]}${lift === undefined ? "" : `: ${names.label(lift)}`}`;
  const pass = async () => {
    if (me === undefined || isBusy) return;
    setBusy(true);
    tell(await passGate(book, line, me.id, gate, lift), `${words.gates.pass}: ${title}`);
    setBusy(false);
  };
  if (passed !== undefined) {
    // What is over is over: a lift that is done, a run that was handed over.
    const isAhead =
      lift === undefined ? gate === "start-up" && book.kept.closed === null : ledger.task(lift).done === 0;
    return (
      <section class="gate passed" aria-label={title}>
        <h1>{title}</h1>
        <p>{words.gates.passed(names.person(passed.author), figures.time(passed.at))}</p>
        {passed.body.offline !== true ? null : wrong.has(passed.id) ? (
          <p class="notice">{words.gates.ruled}</p>
        ) : (
          <p class="notice">{book.isWaiting(passed.id) ? words.gates.provisional : words.gates.passedAlone}</p>
        )}
        {isAhead && missing.length > 0 ? (
          <>
            <p class="notice">{words.gates.since}</p>
            <MissingList answer={answer} />
            {lift === undefined ? null : (
              <>
                <Approval lift={lift} />
                <Link class="button" href={handPath(run, "lift", { lift })}>
                  {words.gates.toTrial}
                </Link>
              </>
            )}
          </>
        ) : null}
      </section>
    );
  }
  return (
    <section class={open ? "gate open" : "gate"} aria-label={title}>
      <h1>{title}</h1>
      <p>
        {open ? (line.is === "near" ? words.gates.open : words.gates.openHere) : words.gates.missing(missing.length)}{" "}
        <small>{words.gates.looked(phrases.map(say))}</small>
      </p>
      <MissingList answer={answer} />
      {gate === "lift" && lift !== undefined ? (
        <>
          <Approval lift={lift} />
          <Override lift={lift} isWanted={missing.some(({ rule }) => rule === "L6")} />
          <Link class="button" href={handPath(run, "lift", { lift })}>
            {words.gates.toTrial}
          </Link>
        </>
      ) : null}
      {open && me !== undefined ? (
        <HeldButton label={words.gates.pass} about={title} disabled={isBusy} onHeld={() => void pass()} />
      ) : null}
    </section>
  );
};

/** Of a place, before more are asked for: of thousands nobody reads on. */
const SHOWN = 40;

/** What is missing, place by place; each leads to its step. */
const MissingList = ({ answer: { missing } }: { readonly answer: GateAnswer }) => {
  const words = useWords();
  const say = useSaying();
  const { book } = useWork();
  const [whole, setWhole] = useState<string>();
  const places = byPlace(missing, ({ where }) => where?.label ?? words.gates.elsewhere);
  const steps = new Set(book.brief.steps.map(({ id }) => id));
  return (
    <>
      {places.map(([place, list]) => (
        <div key={place} class="missing">
          <h2>{place}</h2>
          <ul class="targets">
            {list.slice(0, place === whole ? list.length : SHOWN).map(({ rule, about, label, phrase, who }, n) => {
              const text = (
                <>
                  <span>
                    <b>{label in words.gates.names ? words.gates.names[label as GateName] : label}</b> {say(phrase)}
                    {who.length === 0 ? null : <small> · {words.gates.who(who)}</small>}
                  </span>
                  <small>{rule}</small>
                </>
              );
              return (
                <li key={`${rule} ${about} ${n}`}>
                  {rule === "L8" ? (
                    <Link class="button" href={handPath(book.run, "lift", { lift: about })}>
                      {text}
                    </Link>
                  ) : steps.has(about) && rule !== "L5" && rule !== "L6" ? (
                    <Link class="button" href={handPath(book.run, "steps", { find: about })}>
                      {text}
                    </Link>
                  ) : (
                    <div class="told">{text}</div>
                  )}
                </li>
              );
            })}
          </ul>
          {place === whole || list.length <= SHOWN ? null : (
            <button type="button" onClick={() => setWhole(place)}>
              {words.hand.moreSteps(list.length - SHOWN)}
            </button>
          )}
        </div>
      ))}
    </>
  );
};

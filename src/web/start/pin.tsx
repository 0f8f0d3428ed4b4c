// Owns the PIN of whoever touched his name: right, wrong, shut for a while, or a start PIN that he changes for his own.

import { useEffect, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { useFigures } from "../sheet/figures.ts";
import { asRefusal, kindOf, Refused } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useEntrance } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { Keypad } from "./keypad.tsx";

/** Seconds until a moment, counted down; 0 when it is over or there is none. */
const useSecondsUntil = (until: number | undefined): number => {
  const [now, setNow] = useState(Date.now());
  const isOver = until === undefined || now >= until;
  useEffect(() => {
    setNow(Date.now());
    if (until === undefined) return;
    const clock = setInterval(() => setNow(Date.now()), 500);
    return () => clearInterval(clock);
  }, [until]);
  return isOver ? 0 : Math.ceil((until - now) / 1000);
};

/** Longer than anybody waits: only a foreman opens. */
const FOR_GOOD = 86_400 * 365;

type Step =
  | { readonly ask: "pin" }
  /** One's own, in place of the start PIN. */
  | { readonly ask: "own"; readonly start: string; readonly differed: boolean }
  | { readonly ask: "again"; readonly start: string; readonly own: string };

export const PinOf = ({
  person,
  name,
  back,
  done,
}: {
  readonly person: string;
  readonly name: string;
  readonly back: string;
  readonly done: () => void;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { signIn } = useEntrance();
  const [step, setStep] = useState<Step>({ ask: "pin" });
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<Refusal>();
  const [shutUntil, setShutUntil] = useState<number>();
  const [isBusy, setBusy] = useState(false);
  const seconds = useSecondsUntil(shutUntil);

  const refused = (refusal: Refusal, given: string, wasStart: boolean) => {
    const kind = kindOf(refusal);
    if (kind === "change-first" && !wasStart) {
      setStep({ ask: "own", start: given, differed: false });
      setTyped("");
      return;
    }
    const { after } = refusal.more;
    setShutUntil(typeof after === "number" && refusal.status !== 503 ? Date.now() + after * 1000 : undefined);
    // Without an answer nothing was tried: what is typed stays.
    if (refusal.status === 0 || refusal.status === 503) return setFault(refusal);
    setTyped("");
    setFault(refusal);
    // One's own that is not taken is chosen anew; the start PIN is still good.
    if (wasStart && (refusal.status === 400 || kind === "change-first"))
      setStep({ ask: "own", start: given, differed: false });
    else setStep({ ask: "pin" });
  };
  const send = async (pin: string, next?: string) => {
    setBusy(true);
    setFault(undefined);
    try {
      await signIn({ person, pin, next });
      done();
    } catch (error) {
      refused(asRefusal(error), pin, next !== undefined);
    } finally {
      setBusy(false);
    }
  };
  const enter = (pin: string) => {
    if (isBusy) return;
    setFault(undefined);
    if (step.ask === "pin") return void send(pin);
    if (step.ask === "own") {
      setStep({ ask: "again", start: step.start, own: pin });
      return setTyped("");
    }
    if (pin === step.own) return void send(step.start, pin);
    setStep({ ask: "own", start: step.start, differed: true });
    setTyped("");
  };
  const isForGood = typeof fault?.more.after === "number" && fault.more.after > FOR_GOOD;
  const said =
    step.ask === "pin" ? words.door.pinHelp : step.ask === "own" ? words.door.chooseOwnHelp : words.door.pinHelp;
  return (
    <section class={isBusy ? "door pin-page busy" : "door pin-page"} aria-labelledby="pin-name">
      <div class="whose">
        <h1 id="pin-name">{name}</h1>
        <p id="pin-help">{said}</p>
        {step.ask === "own" ? (
          <p class="notice" role="alert">
            {step.differed ? words.door.notTheSame : words.door.chooseOwn}
          </p>
        ) : null}
        {step.ask === "again" ? (
          <p class="notice" role="alert">
            {words.door.onceMore}
          </p>
        ) : null}
        <Said
          fault={fault}
          until={seconds > 0 && shutUntil !== undefined ? figures.second(shutUntil) : undefined}
          isForGood={isForGood}
        />
        {seconds > 0 && !isForGood ? (
          <p class="countdown" aria-hidden="true">
            {words.door.waitStill(seconds)}
          </p>
        ) : null}
        <Link class="button" href={back}>
          {words.door.anotherName}
        </Link>
      </div>
      <Keypad
        typed={typed}
        label={step.ask === "pin" ? words.door.pinOf(name) : words.door.newPin}
        change={setTyped}
        enter={enter}
        isShut={isBusy || seconds > 0 || isForGood}
        fault={fault !== undefined}
      />
    </section>
  );
};

/** What was wrong: in the words of who stands there, with how long to wait. */
const Said = ({
  fault,
  until,
  isForGood,
}: {
  readonly fault: Refusal | undefined;
  readonly until: string | undefined;
  readonly isForGood: boolean;
}) => {
  const words = useWords();
  if (fault === undefined) return null;
  const isWrong = fault.status === 401 && kindOf(fault) === "wrong";
  if (!isWrong && fault.status !== 429) return <Refused fault={fault} />;
  return (
    <p class="notice" role="alert">
      {isWrong ? <b>{words.door.wrongPin} </b> : null}
      {isForGood ? words.door.shutForGood : until !== undefined ? words.door.wait(until) : words.door.wrongPinMend}
    </p>
  );
};

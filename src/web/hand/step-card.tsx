// Owns the step at hand: where, what, with what; and one large button that says exactly what a tap enters.

import { useEffect, useRef, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { type Act, Names, type StepActs } from "../../ledger/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { HeldButton } from "../sheet/held-button.tsx";
import { useWords } from "../words/words.ts";
import { ActButton, useKeysGoOn } from "./act-button.tsx";
import { handPath } from "./address.ts";
import { Asking } from "./asking.tsx";
import { GateSince, gateWordOf } from "./gate-since.tsx";
import { Fact, HowBack } from "./how-back.tsx";
import { Notes } from "./notes.tsx";
import { namedIn, usePending } from "./pending.ts";
import { Photos } from "./photos.tsx";
import { concernOf, sayStep, sayTap } from "./say.ts";
import { BySecond } from "./second.tsx";
import { toTop } from "./top.ts";
import { useWork } from "./work.tsx";

/** Entries that a photo goes with. */
const TAKES_PHOTOS: ReadonlySet<string> = new Set(["released", "refitted", "verified"]);

export const StepCard = ({ acts: stepActs, onOver }: { readonly acts: StepActs; readonly onOver: () => void }) => {
  const words = useWords();
  const figures = useFigures();
  const { book, me, enter } = useWork();
  const photos = usePending("photos");
  const [isBusy, setBusy] = useState(false);
  const isUnderWay = useRef(false);
  const card = useRef<HTMLElement>(null);
  useEffect(toTop, []);
  const { ledger, brief } = book;
  const { step, acts, gate } = stepActs;
  const about = concernOf(stepActs);
  const joint = brief.joints.find(({ id }) => id === about);
  const at = acts.find(({ done }) => !done);
  const isLast = acts.filter(({ done }) => !done).length === 1;
  const isBack = step.phase === "back";
  const word = gateWordOf(book, stepActs);
  useKeysGoOn(card, JSON.stringify(at?.body));
  const tap = async (act: Act, body: Act["body"], sure?: boolean): Promise<boolean> => {
    if (isUnderWay.current) return false;
    isUnderWay.current = true;
    setBusy(true);
    const takes = TAKES_PHOTOS.has(body.kind) && photos.taken.length > 0;
    const whole = takes ? ({ ...body, ...namedIn("photos", photos) } as Act["body"]) : body;
    const isEntered = await enter(whole, sure);
    isUnderWay.current = false;
    setBusy(false);
    if (isEntered) {
      if (takes) photos.used();
      navigator.vibrate?.(30);
      if (isLast && act === at) onOver();
    }
    return isEntered;
  };
  return (
    <article class="step-card" ref={card} aria-labelledby="at-hand">
      <header>
        <small>
          {words.hand.step(step.number)}
          {step.position === undefined ? "" : ` · ${step.position.label}`}
        </small>
        <h1 id="at-hand">{sayStep(words, brief, step)}</h1>
        <p class="soft">
          {[
            ...(step.minutes === 0 ? [] : [figures.minutes(step.minutes)]),
            ...(step.people > 1 ? [words.hand.people(step.people)] : []),
            ...(step.tools.length === 0 ? [] : [`${words.hand.tools}: ${step.tools.join(", ")}`]),
          ].join(" · ")}
        </p>
      </header>
      {joint === undefined || step.action === "verify" ? null : isBack ? (
        <HowBack joint={joint} />
      ) : (
        <dl class="facts">
          {joint.matchMark === undefined ? null : <Fact name={words.hand.mark}>{joint.matchMark}</Fact>}
          {joint.plugs === 0 ? null : <Fact name={words.hand.plugs(joint.plugs)}>{""}</Fact>}
        </dl>
      )}
      {joint !== undefined && isBack ? <Photos digests={ledger.joint(joint.id).photos} run={book.run} /> : null}
      {word === undefined ? null : <GateSince word={word} />}
      {gate?.done === false ? (
        <p class="gate-first">
          <span>{gate.gate === "lift" ? words.hand.liftFirst : words.hand.isolationFirst}</span>
          <Link class="button main" href={handPath(book.run, gate.gate === "lift" ? "lift" : "gates")}>
            {gate.gate === "lift" ? words.hand.toLift : words.hand.toGate}
          </Link>
        </p>
      ) : at === undefined || me === undefined ? null : word?.isShut === true ? (
        <HeldButton label={sayTap(words, brief, at.body)} onHeld={() => void tap(at, at.body)} />
      ) : at.second === true ? (
        <BySecond act={at} />
      ) : at.asks === undefined ? (
        <ActButton isBusy={isBusy} onAct={() => void tap(at, at.body)}>
          {sayTap(words, brief, at.body)}
        </ActButton>
      ) : (
        <Asking key={JSON.stringify(at.body)} act={at} isBusy={isBusy} onEnter={(body, sure) => tap(at, body, sure)} />
      )}
      {acts.length > 1 ? (
        <ol class="acts">
          {acts.map((act) => (
            <li key={JSON.stringify(act.body)} class={act.done ? "done" : act === at ? "at" : ""}>
              {sayTap(words, brief, act.body)}
              {act.body.kind === "verified" ? `: ${new Names(brief).label(act.body.at)}` : ""}
              {act.done ? <span class="unseen">, {words.hand.allDone}</span> : null}
            </li>
          ))}
        </ol>
      ) : null}
      <Photos digests={photos.taken} run={book.run} />
      <Notes about={about} />
    </article>
  );
};

// Owns the frame of a run in hand: whose hands, what the server has not got yet, the way between its pages, and what was entered last.

import type { ComponentType } from "preact";
import { lazy, Suspense } from "preact/compat";
import { useCallback, useEffect, useMemo, useRef, useState } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import { type Body, type BriefPerson, progressOf } from "../../ledger/index.ts";
import { type Entered, enter } from "../device/entering.ts";
import { type Hands, useHands } from "../device/hands.ts";
import { askToStay } from "../device/installed.tsx";
import { useBook } from "../device/use-book.ts";
import { useFigures } from "../sheet/figures.ts";
import { sayRefusal } from "../sheet/refused.tsx";
import { chunkMissing } from "../sheet/renewed.ts";
import { Failed } from "../sheet/states.tsx";
import { useEntrance } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { HAND, handPath, type Page } from "./address.ts";
import { ContradictionNotice } from "./contradictions.tsx";
import { LineMark, LineNotice } from "./line-mark.tsx";
import { Next } from "./next.tsx";
import { PlanChanged } from "./plan-changed.tsx";
import { useRuleWords, useSaying } from "./rule-words.ts";
import { sayBody } from "./say.ts";
import { Steps } from "./steps.tsx";
import { Stopped } from "./stopped.tsx";
import { keepKeys, toTop } from "./top.ts";
import { type Work, WorkContext } from "./work.tsx";

/** The pages of a run in hand, by their names in its address. */
const LEAVES: Readonly<Record<Page, ComponentType>> = {
  next: Next,
  steps: Steps,
  gates: lazy(() => import("./gates.tsx").then(({ Gates }) => Gates).catch(chunkMissing)),
  lift: lazy(() => import("./aloft.tsx").then(({ Aloft }) => Aloft).catch(chunkMissing)),
  found: lazy(() => import("./found.tsx").then(({ Found }) => Found).catch(chunkMissing)),
  shift: lazy(() => import("./shift.tsx").then(({ Shift }) => Shift).catch(chunkMissing)),
  ties: lazy(() => import("./parting.tsx").then(({ Parting }) => Parting).catch(chunkMissing)),
  hands: lazy(() => import("./take-up.tsx").then(({ TakeUp }) => TakeUp).catch(chunkMissing)),
  scan: lazy(() => import("./scan.tsx").then(({ Scan }) => Scan).catch(chunkMissing)),
};
const TABS = ["next", "steps", "gates", "found", "shift"] as const;

/** Milliseconds within which the same said again is the same touch. */
const TWICE = 700;

interface Said {
  readonly text: string;
  readonly isRefused: boolean;
  /** Enters it all the same. */
  readonly again?: () => void;
}

export const HandPage = ({ run, leaf = "next" }: { readonly run: string; readonly leaf?: string }) => {
  const words = useWords();
  const rules = useRuleWords();
  const say = useSaying();
  const hands = useHands();
  const state = useBook(run, hands.isKept ? undefined : hands.me?.person);
  const [said, setSaid] = useState<Said>();
  useEffect(askToStay, []);
  const isOpen = state.is === "open";
  useEffect(() => {
    toTop();
    keepKeys();
  }, [leaf, isOpen]);
  useEffect(() => {
    document.title = `${run} – ${words.hand.title}`;
  }, [run, words]);

  const tell = useCallback(
    (entered: Entered, what: string, again?: () => void): boolean => {
      if ("entries" in entered) {
        setSaid({
          text: [
            words.hand.entered(what),
            ...entered.warnings.map((one) => (typeof one === "string" ? one : say(one))),
          ].join(". "),
          isRefused: entered.warnings.length > 0,
        });
        return true;
      }
      if ("contradicts" in entered) {
        const text = `${words.hand.contradicts}: ${entered.contradicts.map(({ rule }) => rules[rule]).join("; ")}`;
        setSaid({ text, isRefused: true, ...(again === undefined ? {} : { again }) });
        return false;
      }
      const text =
        "lack" in entered
          ? entered.lack === "room"
            ? words.hand.room
            : words.hand.needsServer
          : Object.values(sayRefusal(words, entered.refused)).join(" ");
      setSaid({ text, isRefused: true });
      return false;
    },
    [words, rules, say],
  );
  useEffect(() => {
    if (said !== undefined) keepKeys();
  }, [said]);
  const lastSaid = useRef({ same: "", at: 0 });
  const book = state.is === "open" ? state.book : undefined;
  const line = state.is === "open" ? state.line : undefined;
  const wake = state.is === "open" ? state.wake : undefined;
  const isOwn = hands.paired !== undefined && hands.paired.id === book?.identity.device;
  const isOver = typeof book?.kept.closed === "number";
  // What is handed over is looked at, and nothing more is entered.
  const me = isOwn && !isOver ? book?.brief.people.find(({ id }) => id === hands.me?.person) : undefined;
  const paired = isOwn ? hands.paired : undefined;
  const work = useMemo((): Work | undefined => {
    if (book === undefined || line === undefined || wake === undefined) return undefined;
    return {
      book,
      line,
      me,
      paired,
      wake,
      tell,
      enter: async (body: Body, sure?: boolean) => {
        if (me === undefined) return false;
        // The second touch of a double tap says the same again: it is no second entry.
        const same = JSON.stringify(body);
        const now = performance.now();
        if (lastSaid.current.same === same && now - lastSaid.current.at < TWICE && sure !== true) return false;
        lastSaid.current = { same, at: now };
        const what = sayBody(words, book.brief, body);
        const again = () => void enter(book, me.id, body, true).then((entered) => tell(entered, what));
        const isEntered = tell(await enter(book, me.id, body, sure), what, again);
        // What was not entered may be said again at once.
        if (!isEntered) lastSaid.current = { same: "", at: 0 };
        return isEntered;
      },
    };
  }, [book, line, me, paired, wake, tell, words]);

  if (state.is === "failed")
    return (
      <main class="work">
        <Failed error={state.error} again={state.again} />
        <p class="row">
          <Link class="button" href={HAND}>
            {words.hand.title}
          </Link>
        </p>
      </main>
    );
  if (work === undefined)
    return (
      <main class="work">
        <p class="waiting busy">{words.hand.opening}</p>
      </main>
    );
  const Leaf = LEAVES[leaf as Page] ?? Next;
  return (
    <WorkContext.Provider value={work}>
      <div class="work">
        <Head hands={hands.me?.name} isUnproved={hands.isUnproved} />
        <main id="drawing" tabIndex={-1}>
          <Stopped />
          <PlanChanged />
          <LineNotice />
          {leaf === "gates" ? null : <ContradictionNotice />}
          <Over at={book?.kept.closed ?? null} />
          <Standing isPaired={isOwn} hands={hands} people={book?.brief.people ?? []} />
          <Suspense fallback={<p class="waiting busy">{words.hand.opening}</p>}>
            <Leaf />
          </Suspense>
        </main>
        <div class={said?.isRefused === true ? "said refused" : "said"}>
          <p role="status">{said?.text ?? ""}</p>
          {said?.again === undefined ? null : (
            <button
              type="button"
              onClick={() => {
                setSaid(undefined);
                said.again?.();
              }}
            >
              {words.hand.allTheSame}
            </button>
          )}
        </div>
        <nav aria-label={words.hand.nav}>
          {TABS.map((name) => (
            <Link
              key={name}
              href={handPath(run, name)}
              aria-current={name === leaf ? "page" : undefined}
              onClick={() => setSaid(undefined)}
            >
              {words.hand.leaves[name]}
            </Link>
          ))}
        </nav>
      </div>
    </WorkContext.Provider>
  );
};

/** What stands over every page: the run, how far it is, the line, and whose hands. */
const Head = ({ hands, isUnproved }: { readonly hands: string | undefined; readonly isUnproved: boolean }) => {
  const words = useWords();
  const { signOut } = useEntrance();
  const [, navigate] = useLocation();
  return (
    <WorkContext.Consumer>
      {(work) => {
        if (work === undefined) return null;
        const { planned, apart, back, steps } = progressOf(work.book.ledger);
        const over = () =>
          signOut().then(
            () => navigate(`/sign-in?to=${HAND}`),
            () => navigate(`/sign-in?to=${HAND}`),
          );
        return (
          <header>
            <Link href={HAND} class="run">
              <b>
                {work.book.run}
                <span class="unseen">, {words.hand.title}</span>
              </b>
              <small>
                {planned === 0
                  ? words.hand.left(steps.filter(({ done }) => !done).length)
                  : back > 0
                    ? words.hand.made(back, planned)
                    : words.hand.apart(apart, planned)}
              </small>
            </Link>
            <LineMark />
            {work.line.is === "away" && work.paired?.own === false ? (
              <Link class="button" href={handPath(work.book.run, "hands")}>
                <b>{hands ?? words.hand.takeUp}</b>
                {hands === undefined ? null : <small>{isUnproved ? words.hand.unproved : words.hand.handOver}</small>}
              </Link>
            ) : hands === undefined ? (
              <Link class="button" href={`/sign-in?to=${encodeURIComponent(handPath(work.book.run, "next"))}`}>
                {words.sheet.signIn}
              </Link>
            ) : (
              <button type="button" onClick={() => void over()} disabled={work.line.is === "away"}>
                <b>{hands}</b>
                {work.paired?.own === false ? (
                  <small>{isUnproved ? words.hand.unproved : words.hand.handOver}</small>
                ) : null}
              </button>
            )}
          </header>
        );
      }}
    </WorkContext.Consumer>
  );
};

/** The end of a run: when it was handed over. */
const Over = ({ at }: { readonly at: number | null }) => {
  const words = useWords();
  const figures = useFigures();
  return at === null ? null : <p class="notice">{words.hand.over(figures.moment(at))}</p>;
};

/** Why nothing can be entered here, where that is so. */
const Standing = ({
  isPaired,
  hands,
  people,
}: {
  readonly isPaired: boolean;
  readonly hands: Hands;
  readonly people: readonly BriefPerson[];
}) => {
  const words = useWords();
  const [path] = useLocation();
  const { name, person } = hands.me ?? {};
  if (name === undefined || person === undefined)
    return (
      <p class="notice">
        {words.hand.nobody}{" "}
        <Link class="button" href={`/sign-in?to=${encodeURIComponent(path)}`}>
          {words.sheet.signIn}
        </Link>
      </p>
    );
  // A device that is made known would be of no use to him.
  if (!people.some(({ id }) => id === person)) return <p class="notice">{words.hand.readsOnly(name)}</p>;
  if (!isPaired)
    return (
      <p class="notice">
        {words.hand.notPaired}{" "}
        <Link class="button" href={`/device?to=${encodeURIComponent(path)}`}>
          {words.hand.pair}
        </Link>
      </p>
    );
  return (
    <WorkContext.Consumer>
      {(work) => (
        <>
          {hands.isUnproved ? (
            <p class="notice">
              {words.hand.unprovedSince(name)}{" "}
              {work?.line.is === "away" ? null : (
                <Link class="button" href={`/sign-in?${new URLSearchParams({ who: person, to: path })}`}>
                  {words.hand.proveNow}
                </Link>
              )}
            </p>
          ) : null}
        </>
      )}
    </WorkContext.Consumer>
  );
};

// Owns the mark of what the server has not got yet, and what to do where it will not take it.

import { useEffect, useId, useRef, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { Names, type Subtle, seal } from "../../ledger/index.ts";
import type { Book } from "../device/book.ts";
import { isWrongPin } from "../device/carrier.ts";
import type { Refused, TakingUp } from "../device/drawer.ts";
import { giveUp, sealAgain, takenUpAlone, takenUpFor } from "../device/taking-up.ts";
import { sayRefusal } from "../sheet/refused.tsx";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { HAND, handPath } from "./address.ts";
import { PinPad } from "./pin-pad.tsx";
import { useWork } from "./work.tsx";

/** Told by shape and words: a closed ring has arrived, an open one waits, a struck one is refused. */
const Ring = ({ is }: { readonly is: "there" | "waits" | "refused" }) => (
  <svg class="ring" viewBox="0 0 24 24" aria-hidden="true">
    <circle cx="12" cy="12" r="8" {...(is === "waits" ? { "stroke-dasharray": "5 4" } : {})} />
    {is === "there" ? <circle cx="12" cy="12" r="3.5" class="core" /> : null}
    {is === "refused" ? <path d="M4 20 20 4" /> : null}
  </svg>
);

/** How it stands with what waits here, in one line. */
const useSays = (): string => {
  const words = useWords();
  const { book, line } = useWork();
  const { length } = book.waiting;
  if (line.is === "full") return words.hand.roomForOthers;
  if (length === 0)
    return line.is === "near" ? words.hand.allThere : line.is === "away" ? words.hand.away : words.hand.signedOut;
  return line.is === "refused" ? words.hand.notTaken(length) : words.hand.waits(length);
};

export const LineMark = () => {
  const { book, line } = useWork();
  const dialog = useRef<HTMLDialogElement>(null);
  const says = useSays();
  const { length } = book.waiting;
  const is =
    line.is === "refused" || line.is === "full" ? "refused" : length > 0 || line.is !== "near" ? "waits" : "there";
  return (
    <>
      <button type="button" class="line-mark" aria-label={says} onClick={() => dialog.current?.showModal()}>
        <Ring is={is} />
        {length > 0 ? <b>{length}</b> : null}
      </button>
      <LineDialog at={dialog} />
    </>
  );
};

/** Over every page, where somebody has to do something: what is refused is seen by who only glances. */
export const LineNotice = () => {
  const words = useWords();
  const { book, line } = useWork();
  const dialog = useRef<HTMLDialogElement>(null);
  const says = useSays();
  if (line.is === "full")
    return (
      <div class="notice" role="alert">
        <p>{words.hand.roomForOthers}</p>
        <RunsHere />
      </div>
    );
  if (line.is !== "refused") return null;
  return (
    <div class="notice" role="alert">
      <p>
        <b>{says}.</b> {sayNotTaken(words, book, line)}
      </p>
      <button type="button" onClick={() => dialog.current?.showModal()}>
        {words.hand.whatToDo}
      </button>
      <LineDialog at={dialog} />
    </div>
  );
};

const RunsHere = () => (
  <Link class="button" href={HAND}>
    {useWords().hand.runsHere}
  </Link>
);

const LineDialog = ({ at }: { readonly at: { readonly current: HTMLDialogElement | null } }) => {
  const words = useWords();
  const { book, line, wake } = useWork();
  const says = useSays();
  const id = useId();
  const isHeld = line.is === "refused" && line.why.some(isWrongPin);
  return (
    <dialog ref={at} aria-labelledby={id} class="line-says">
      <p id={id}>
        <b>{says}</b>
      </p>
      {line.is === "signed out" && book.waiting.length > 0 ? <p>{words.hand.signedOut}</p> : null}
      {line.is === "away" && book.waiting.length > 0 ? <p>{words.hand.away}</p> : null}
      {line.is === "refused" ? <RefusedLine refused={line} /> : null}
      <p class="row">
        {line.is === "full" ? <RunsHere /> : null}
        {line.is === "signed out" ? (
          <Link class="button main" href={`/sign-in?to=${encodeURIComponent(handPath(book.run, "next"))}`}>
            {words.sheet.signIn}
          </Link>
        ) : isHeld ? null : (
          <button type="button" onClick={wake}>
            {words.sheet.again}
          </button>
        )}
        <button type="button" onClick={() => at.current?.close()}>
          {words.sheet.close}
        </button>
      </p>
    </dialog>
  );
};

/** A PIN that was wrong, with the entries that stop all others by it. */
interface Stuck {
  readonly person: string;
  readonly entries: ReadonlySet<string>;
  readonly again: (pin: string, key: string) => Promise<void>;
  /** What else ends with them. */
  readonly end?: () => Promise<void>;
  /** What is left out, as the button says it. */
  readonly out: string;
}

/** Why it is not taken: each reason once, whatever number of entries it stops. */
const sayNotTaken = (words: Words, { brief }: Book, { refusal, why }: Refused): string => {
  const names = new Names(brief);
  const pins = why.filter(isWrongPin).map(({ why: [, person] }) => words.hand.pinWrong(names.person(String(person))));
  if (pins.length > 0) return [...new Set(pins)].join(" ");
  const reasons = new Set(why.map((one) => words.door.said("", one.why)).filter((text) => text !== ""));
  const { what, mend } = sayRefusal(words, refusal);
  return reasons.size === 0 ? `${what} ${mend}` : `${[...reasons].join("; ")}. ${mend}`;
};

/** For the most part a second person's wrong PIN, or that of who took up the tablet while it was alone. He enters it again, or what hangs on it is left out. */
const RefusedLine = ({ refused }: { readonly refused: Refused }) => {
  const { why } = refused;
  const words = useWords();
  const { book, wake } = useWork();
  const [asked, setAsked] = useState<Stuck>();
  const [taken, setTaken] = useState<readonly TakingUp[]>([]);
  useEffect(() => void takenUpAlone().then(setTaken), []);
  const names = new Names(book.brief);
  const { waiting, ledger } = book;
  const isNamed = (id: string) => why.some(({ entry }) => entry === id);
  const sealed = waiting.filter(({ id, seal: pin }) => pin !== undefined && (why.length === 0 || isNamed(id)));
  const authorOf = (id: string) => ledger.entry(id)?.author;
  const stuck: readonly Stuck[] = [
    ...[...new Set(sealed.flatMap(({ id }) => authorOf(id) ?? []))].map((person): Stuck => {
      const entries = sealed.filter(({ id }) => authorOf(id) === person).map(({ id }) => id);
      const subtle = globalThis.crypto.subtle as unknown as Subtle;
      return {
        person,
        entries: new Set(entries),
        again: async (pin, key) => {
          for (const id of entries) await book.reseal(id, await seal(subtle, pin, { person, entry: id }, key));
        },
        out: words.hand.leaveOut(names.person(person)),
      };
    }),
    ...taken
      .filter(({ id }) => isNamed(id))
      .map((one): Stuck => {
        const under = waiting.filter(({ id }) => {
          const entry = ledger.entry(id);
          return entry !== undefined && takenUpFor(taken, entry) === one;
        });
        return {
          person: one.person,
          entries: new Set(under.map(({ id }) => id)),
          again: (pin, key) => sealAgain(one, pin, key),
          end: () => giveUp(one),
          out: words.hand.leaveOutTaken(names.person(one.person)),
        };
      }),
  ];
  const again = async (one: Stuck, pin: string) => {
    const key = book.kept.sealingKey;
    if (key === undefined) return;
    await one.again(pin, key);
    await book.keep({ refused: undefined });
    setAsked(undefined);
    wake();
  };
  const leaveOut = async ({ entries, end }: Stuck) => {
    await book.leaveOut(entries);
    await end?.();
    await book.keep({ refused: undefined });
    wake();
  };
  return (
    <>
      <p class="notice">{sayNotTaken(words, book, refused)}</p>
      {asked === undefined ? (
        stuck.map((one) => (
          <div key={one.out} class="row">
            <button type="button" onClick={() => setAsked(one)}>
              {words.hand.pinAgain(names.person(one.person))}
            </button>
            <button type="button" onClick={() => void leaveOut(one)}>
              {one.out}
            </button>
          </div>
        ))
      ) : (
        <PinPad
          label={words.hand.pinOf(names.person(asked.person))}
          onPin={(pin) => void again(asked, pin)}
          onCancel={() => setAsked(undefined)}
        />
      )}
    </>
  );
};

// Owns the mark of what the server has not got yet, and what to do where it will not take it.

import { useEffect, useRef, useState } from "preact/hooks";
import { Names, type Subtle, seal } from "../../ledger/index.ts";
import type { NotTaken } from "../../server/index.ts";
import type { TakingUp } from "../device/drawer.ts";
import { giveUp, sealAgain, takenUpAlone, takenUpFor } from "../device/taking-up.ts";
import { sayRefusal } from "../sheet/refused.tsx";
import type { Said } from "../shop/calls.ts";
import { useWords, type Words } from "../words/words.ts";
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

export const LineMark = () => {
  const words = useWords();
  const { book, line, wake } = useWork();
  const dialog = useRef<HTMLDialogElement>(null);
  const { length } = book.waiting;
  const is =
    line.is === "refused" || line.is === "full" ? "refused" : length > 0 || line.is !== "near" ? "waits" : "there";
  const says = length > 0 ? words.hand.waits(length) : line.is === "near" ? words.hand.allThere : words.hand.away;
  return (
    <>
      <button type="button" class="line-mark" aria-label={says} onClick={() => dialog.current?.showModal()}>
        <Ring is={is} />
        {length > 0 ? <b>{length}</b> : null}
      </button>
      <dialog ref={dialog} aria-labelledby="line-says">
        <p id="line-says">
          <b>{says}</b>
        </p>
        {line.is === "full" ? <p>{words.hand.roomForOthers}</p> : null}
        {line.is === "signed out" ? <p>{words.hand.signedOut}</p> : null}
        {line.is === "away" && length > 0 ? <p>{words.hand.away}</p> : null}
        {line.is === "refused" ? <RefusedLine refusal={line.refusal} why={line.why} /> : null}
        <p class="row">
          <button type="button" onClick={wake}>
            {words.sheet.again}
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            {words.sheet.close}
          </button>
        </p>
      </dialog>
    </>
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
const sayNotTaken = (words: Words, refusal: Said, why: readonly NotTaken[]): string => {
  const reasons = new Set(why.map((one) => words.door.said("", one.why)).filter((text) => text !== ""));
  const { what, mend } = sayRefusal(words, refusal);
  return reasons.size === 0 ? `${what} ${mend}` : `${[...reasons].join("; ")}. ${mend}`;
};

/** For the most part a second person's wrong PIN, or that of who took up the tablet while it was alone. He enters it again, or what hangs on it is left out. */
const RefusedLine = ({ refusal, why }: { readonly refusal: Said; readonly why: readonly NotTaken[] }) => {
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
    setAsked(undefined);
    wake();
  };
  const leaveOut = async ({ entries, end }: Stuck) => {
    await book.leaveOut(entries);
    await end?.();
    wake();
  };
  return (
    <>
      <p class="notice">
        {words.hand.refusedLine}:{" "}
        {stuck.length === 0
          ? sayNotTaken(words, refusal, why)
          : stuck.map(({ person }) => words.hand.pinWrong(names.person(person))).join(" ")}
      </p>
      {stuck.map((one) => (
        <div key={one.out} class="row">
          <button type="button" onClick={() => setAsked(one)}>
            {words.hand.pinAgain(names.person(one.person))}
          </button>
          <button type="button" onClick={() => void leaveOut(one)}>
            {one.out}
          </button>
        </div>
      ))}
      {asked === undefined ? null : (
        <PinPad
          label={words.hand.pinOf(names.person(asked.person))}
          onPin={(pin) => void again(asked, pin)}
          onCancel={() => setAsked(undefined)}
        />
      )}
    </>
  );
};

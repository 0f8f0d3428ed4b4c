// Owns the mark of what the server has not got yet, and what to do where it will not take it.

import { useRef, useState } from "preact/hooks";
import { Names, type Subtle, seal } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
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
        {line.is === "full" ? <p>{words.hand.room}</p> : null}
        {line.is === "signed out" ? <p>{words.hand.signedOut}</p> : null}
        {line.is === "away" && length > 0 ? <p>{words.hand.away}</p> : null}
        {line.is === "refused" ? <RefusedLine what={line.what} faults={line.faults} /> : null}
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

/** Entries that stop all others: for the most part a second person's wrong PIN. He enters it again, or what he looked at is left out. */
const RefusedLine = ({ what, faults }: { readonly what: string; readonly faults: readonly string[] }) => {
  const words = useWords();
  const { book, wake } = useWork();
  const [asked, setAsked] = useState<string>();
  const names = new Names(book.brief);
  const stuck = book.waiting.filter(
    ({ id, seal: pin }) => pin !== undefined && (faults.length === 0 || faults.some((one) => one.startsWith(id))),
  );
  const people = [...new Set(stuck.flatMap(({ id }) => book.ledger.entry(id)?.author ?? []))];
  const ofPerson = (person: string) => stuck.filter(({ id }) => book.ledger.entry(id)?.author === person);
  const again = async (person: string, pin: string) => {
    const key = book.kept.sealingKey;
    if (key === undefined) return;
    const subtle = globalThis.crypto.subtle as unknown as Subtle;
    for (const { id } of ofPerson(person)) await book.reseal(id, await seal(subtle, pin, { person, entry: id }, key));
    setAsked(undefined);
    wake();
  };
  const leaveOut = async (person: string) => {
    await book.leaveOut(new Set(ofPerson(person).map(({ id }) => id)));
    wake();
  };
  return (
    <>
      <p class="notice">
        {words.hand.refusedLine}: {what}
      </p>
      {people.map((person) => (
        <div key={person} class="row">
          <button type="button" onClick={() => setAsked(person)}>
            {words.hand.pinAgain(names.person(person))}
          </button>
          <button type="button" onClick={() => void leaveOut(person)}>
            {words.hand.leaveOut(names.person(person))}
          </button>
        </div>
      ))}
      {asked === undefined ? null : (
        <PinPad
          label={words.hand.pinOf(names.person(asked))}
          onPin={(pin) => void again(asked, pin)}
          onCancel={() => setAsked(undefined)}
        />
      )}
    </>
  );
};

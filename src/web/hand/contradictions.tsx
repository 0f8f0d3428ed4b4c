// Owns what contradicts itself in a run: who said what, and how it was settled.

import { useMemo } from "preact/hooks";
import { Link } from "wouter-preact";
import { type Contradiction, type GateName, Names, wrongPasses } from "../../ledger/index.ts";
import type { Book } from "../device/book.ts";
import { useFigures } from "../sheet/figures.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { useTyped } from "./half-done.ts";
import { useRuleWords } from "./rule-words.ts";
import { sayAct } from "./say.ts";
import { useWork } from "./work.tsx";

/** What nobody has settled yet: what was said in two ways, and gates that were passed while something was missing, by all that has arrived since. */
const useUnsettled = (): readonly Contradiction[] => {
  const { ledger } = useWork().book;
  // The ledger stays the same one: that it has more is told by its size.
  const { size } = ledger;
  return useMemo(
    () => [...ledger.contradictions(), ...wrongPasses(ledger).filter(({ key }) => !ledger.isSettled(key))],
    [ledger, size],
  );
};

export const Contradictions = () => {
  const words = useWords();
  const open = useUnsettled();
  if (open.length === 0) return null;
  return (
    <section class="gate" aria-labelledby="contradictions">
      <h1 id="contradictions">{words.gates.contradictions}</h1>
      <ul class="contradictions">
        {open.map((one) => (
          <Settling key={one.key} one={one} />
        ))}
      </ul>
    </section>
  );
};

/** Of a gate without a lift its name, else what the vehicle file calls it. */
const labelOf = (words: Words, { brief }: Book, about: string): string =>
  about in words.gates.names ? words.gates.names[about as GateName] : new Names(brief).label(about);

/** On every other page, for who works on: something was said in two ways, and what. */
export const ContradictionNotice = () => {
  const words = useWords();
  const { book } = useWork();
  const rules = useRuleWords();
  const [first, ...more] = useUnsettled();
  if (first === undefined) return null;
  return (
    <div class="notice">
      <p>
        <b>{labelOf(words, book, first.about)}</b>: {rules[first.rule]}
        {more.length === 0 ? "" : ` (${words.gates.andMore(more.length)})`}
      </p>
      <Link class="button" href={handPath(book.run, "gates")}>
        {words.gates.lookAtIt}
      </Link>
    </div>
  );
};

const Settling = ({ one: { key, rule, about, entries } }: { readonly one: Contradiction }) => {
  const words = useWords();
  const figures = useFigures();
  const { book, me, enter } = useWork();
  const rules = useRuleWords();
  const [how, setHow] = useTyped<string | undefined>(`settle ${key}`, undefined);
  const names = new Names(book.brief);
  return (
    <li>
      <p>
        <b>{labelOf(words, book, about)}</b>: {rules[rule]} <small>{rule}</small>
      </p>
      <ul>
        {entries.map((id) => {
          const entry = book.ledger.entry(id);
          return entry === undefined ? null : (
            <li key={id}>
              {figures.time(entry.at)} {names.person(entry.author)}: {sayAct(words, book.brief, entry.body)}
            </li>
          );
        })}
      </ul>
      {me === undefined ? null : how === undefined ? (
        <button type="button" onClick={() => setHow("")}>
          {words.gates.settle}
        </button>
      ) : (
        <form
          class="asking"
          onSubmit={(event) => {
            event.preventDefault();
            void enter({ kind: "settled", contradiction: key, how }).then(
              (isEntered) => isEntered && setHow(undefined),
            );
          }}
        >
          <label class="field">
            <span>{words.gates.settleHow}</span>
            <input required maxLength={400} value={how} onInput={({ currentTarget }) => setHow(currentTarget.value)} />
          </label>
          <div class="row">
            <button type="submit" class="main">
              {words.gates.settle}
            </button>
            <button type="button" onClick={() => setHow(undefined)}>
              {words.hand.cancel}
            </button>
          </div>
        </form>
      )}
    </li>
  );
};

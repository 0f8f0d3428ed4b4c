// Owns what contradicts itself in a run: who said what, and how it was settled.

import { useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { type Contradiction, Names } from "../../ledger/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { useRuleWords } from "./rule-words.ts";
import { sayAct } from "./say.ts";
import { useWork } from "./work.tsx";

export const Contradictions = () => {
  const words = useWords();
  const { book } = useWork();
  const open = book.ledger.contradictions();
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

/** On every other page, for who works on: something was said in two ways, and what. */
export const ContradictionNotice = () => {
  const words = useWords();
  const { book } = useWork();
  const rules = useRuleWords();
  const [first, ...more] = book.ledger.contradictions();
  if (first === undefined) return null;
  return (
    <div class="notice">
      <p>
        <b>{new Names(book.brief).label(first.about)}</b>: {rules[first.rule]}
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
  const [how, setHow] = useState<string>();
  const names = new Names(book.brief);
  return (
    <li>
      <p>
        <b>{names.label(about)}</b>: {rules[rule]} <small>{rule}</small>
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
            void enter({ kind: "settled", contradiction: key, how });
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

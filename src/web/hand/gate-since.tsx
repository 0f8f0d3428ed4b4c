// Owns what stands over a lift whose gate was passed: that it is provisional, or what has come up since and shuts it again.

import { Link } from "wouter-preact";
import { askGate, type Missing, type StepActs } from "../../ledger/index.ts";
import type { Book } from "../device/book.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { useSaying } from "./rule-words.ts";
import { useWork } from "./work.tsx";

export interface GateWord {
  readonly missing: readonly Missing[];
  /** Something is missing now: what is entered all the same is no tap in passing. */
  readonly isShut: boolean;
}

/** Of a lift that is ahead, its gate passed; undefined where there is nothing to say of it. */
export const gateWordOf = (book: Book, { gate, over }: StepActs): GateWord | undefined => {
  if (gate?.gate !== "lift" || !gate.done || over) return undefined;
  const { ledger } = book;
  const passed = ledger.list("gates", "passed").findLast(({ body }) => body.lift === gate.lift);
  const missing = askGate(ledger, "lift", { decides: false }).find(({ lift }) => lift === gate.lift)?.missing ?? [];
  const isShut = missing.length > 0;
  return isShut || (passed !== undefined && book.isWaiting(passed.id)) ? { missing, isShut } : undefined;
};

export const GateSince = ({ word: { missing, isShut } }: { readonly word: GateWord }) => {
  const words = useWords();
  const { book } = useWork();
  const say = useSaying();
  const [first, ...more] = missing;
  return (
    <div class="notice gate-first" role="alert">
      <p>
        {isShut ? words.gates.shutSince : words.gates.provisionalLift}{" "}
        {first === undefined ? null : (
          <>
            <b>{first.label}</b> {say(first.phrase)}
            {more.length === 0 ? "" : ` (${words.gates.andMore(more.length)})`}
          </>
        )}
      </p>
      <Link class={isShut ? "button main" : "button"} href={handPath(book.run, "gates")}>
        {words.hand.toGate}
      </Link>
    </div>
  );
};

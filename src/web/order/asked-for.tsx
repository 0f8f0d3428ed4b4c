// Owns what is worked out only when somebody asks for it: a button until then, what is under way, the answer.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { AskedOf, Kind, SaidOf } from "../engine/asked.ts";
import { useAnswer } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";

interface AskedForProps<K extends Kind> {
  readonly kind: K;
  /** Nothing can be asked while it is undefined. */
  readonly body: AskedOf[K] | undefined;
  readonly title: string;
  /** What the button says. */
  readonly question: string;
  readonly children: (said: SaidOf[K]) => ComponentChildren;
}

export const AskedFor = <K extends Kind>({ kind, body, title, question, children }: AskedForProps<K>) => {
  const words = useWords();
  const [isAsked, setAsked] = useState(false);
  const known = useAnswer(kind, isAsked ? body : undefined);
  return (
    <section aria-labelledby={kind} class={isAsked && known.isFetching ? "busy" : ""}>
      <h2 id={kind}>{title}</h2>
      {!isAsked ? (
        <button type="button" onClick={() => setAsked(true)}>
          {question}
        </button>
      ) : known.error !== null ? (
        <p class="soft">{known.error.message}</p>
      ) : known.data === undefined || known.isPlaceholderData ? (
        <p class="soft">{words.sheet.computing}</p>
      ) : (
        children(known.data)
      )}
    </section>
  );
};

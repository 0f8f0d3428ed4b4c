// Owns what waits for a second person's look: each connection of a cut that was released, with where it is; looked at one by one, or all of a position with one PIN.

import { type Body, shiftPage } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { useOpened } from "./half-done.ts";
import { Confirm, type Confirmed, useHandsIn } from "./second.tsx";
import { useWork } from "./work.tsx";

export const ToLook = () => {
  const words = useWords();
  const { book, me, enter } = useWork();
  const handsIn = useHandsIn();
  const asked = useOpened<Confirmed>("look");
  const waiting = shiftPage(book.ledger).toVerify;
  if (waiting.length === 0) return null;
  const { body } = asked.value ?? {};
  if (body?.kind === "verified" && waiting.some(({ id }) => id === body.at))
    return <Confirm asked={asked} body={body} />;
  const give = (body: Body, at: string) =>
    me !== undefined && !handsIn(at).has(me.id) ? void enter(body) : asked.open({ body });
  return (
    <>
      <h2>
        {words.hand.toLook} <small>{waiting.length}</small>
      </h2>
      <ul class="to-look">
        {waiting.map(({ id, label, state, where }) => {
          const isLoose = state === "released";
          return (
            <li key={id}>
              <span>
                {label}
                <small>{where?.label}</small>
              </span>
              <button
                type="button"
                disabled={me === undefined}
                aria-label={`${label}: ${isLoose ? words.hand.acts.foundLoose : words.hand.acts.foundMade}`}
                onClick={() => give({ kind: "verified", at: id, found: isLoose ? "loose" : "made" }, id)}
              >
                {isLoose ? words.hand.acts.foundLoose : words.hand.acts.foundMade}
              </button>
              <button
                type="button"
                disabled={me === undefined}
                aria-label={`${label}: ${isLoose ? words.hand.stillTied : words.hand.notMade}`}
                onClick={() => give({ kind: "verified", at: id, found: isLoose ? "made" : "loose" }, id)}
              >
                {isLoose ? words.hand.stillTied : words.hand.notMade}
              </button>
            </li>
          );
        })}
      </ul>
    </>
  );
};

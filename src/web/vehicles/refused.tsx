// Owns what is shown where the shop's server did not keep the model: why, and what to do; the text stays in any case.

import { Link } from "wouter-preact";
import { sayRefusal } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useWords } from "../words/words.ts";

interface Sentenced {
  readonly sentence: string;
}

const faultsOf = (refusal: Refusal): readonly Sentenced[] =>
  Array.isArray(refusal.more.faults) ? (refusal.more.faults as readonly Sentenced[]) : [];

/** Faults that are shown; the list beside has all that the text here has. */
const FEW = 5;

export const Refused = ({ refusal, signIn }: { readonly refusal: Refusal; readonly signIn: string }) => {
  const words = useWords();
  const { keep } = words.vehicle;
  if (refusal.status === 401)
    return (
      <div class="notice" role="alert">
        <p>{keep.over}</p>
        <Link class="button main" href={signIn}>
          {words.sheet.signIn}
        </Link>
      </div>
    );
  const faults = faultsOf(refusal);
  const { what, mend } = sayRefusal(words, refusal);
  return (
    <div class="notice" role="alert">
      <p>
        <b>
          {refusal.status === 0
            ? keep.offline
            : refusal.status === 403
              ? `${words.sheet.notAllowed} ${what}`
              : faults.length > 0
                ? keep.refusedFor
                : what}
        </b>
      </p>
      {faults.length === 0 ? (
        refusal.status === 0 ? null : (
          <p>{mend}</p>
        )
      ) : (
        <ul>
          {faults.slice(0, FEW).map(({ sentence }) => (
            <li key={sentence} class="small">
              {sentence}
            </li>
          ))}
          {faults.length > FEW ? <li class="small soft">{words.vehicle.moreFaults(faults.length - FEW)}</li> : null}
        </ul>
      )}
    </div>
  );
};

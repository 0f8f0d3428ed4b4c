// Owns the page of what is next: the step at hand as large as it can be, what follows it, and what waits for a second person's look.

import { lazy, Suspense } from "preact/compat";
import { useEffect, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { chunkMissing } from "../sheet/renewed.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { Aside } from "./aside.tsx";
import { mySteps } from "./my-steps.ts";
import { concernOf, sayStep } from "./say.ts";
import { Share } from "./share.tsx";
import { StepCard } from "./step-card.tsx";
import { ToLook } from "./to-look.tsx";
import { useWork } from "./work.tsx";

const Parting = lazy(() => import("./parting.tsx").then((found) => found.Parting).catch(chunkMissing));

/** Whether there is room for the chart beside the step. */
const useWide = (): boolean => {
  const [isWide, setWide] = useState(() => matchMedia(WIDE).matches);
  useEffect(() => {
    const media = matchMedia(WIDE);
    const look = () => setWide(media.matches);
    media.addEventListener("change", look);
    return () => media.removeEventListener("change", look);
  }, []);
  return isWide;
};
const WIDE = "(min-width: 56rem)";

/** Steps that are shown behind the one at hand. */
const BEHIND = 2;

export const Next = () => {
  const words = useWords();
  const { book, me } = useWork();
  const { steps, are } = mySteps(book.ledger, me?.id);
  const [picked, setPicked] = useState<number>();
  const isWide = useWide();
  const at = steps.find(({ step }) => step.number === picked) ?? steps[0];
  const behind = steps.filter((one) => one !== at).slice(0, BEHIND);
  return (
    <div class="next">
      <section class="at-hand" aria-label={words.hand.leaves.next}>
        {at === undefined ? (
          <p class="large">{book.kept.closed === null ? words.hand.nothingNext : words.hand.allDone}</p>
        ) : (
          <StepCard key={at.step.number} acts={at} onOver={() => setPicked(undefined)} />
        )}
        <Aside {...(at === undefined ? {} : { about: concernOf(at) })} />
      </section>
      <section class="beside">
        {are === "mine" || at === undefined ? null : (
          <p class="soft">{are === "open" ? words.hand.notShared : words.hand.nothingMine}</p>
        )}
        {behind.length === 0 ? null : (
          <>
            <h2>{words.hand.then}</h2>
            <ul class="targets">
              {behind.map(({ step }) => (
                <li key={step.number}>
                  <button type="button" onClick={() => setPicked(step.number)}>
                    <span>{sayStep(words, book.brief, step)}</span>
                    <small>{step.position?.label}</small>
                  </button>
                </li>
              ))}
            </ul>
          </>
        )}
        <ToLook />
        <Share isShared={are !== "open"} />
        {isWide ? (
          <Suspense fallback={null}>
            <Parting />
          </Suspense>
        ) : (
          <Link class="button" href={handPath(book.run, "ties")}>
            {words.hand.ties}
          </Link>
        )}
      </section>
    </div>
  );
};

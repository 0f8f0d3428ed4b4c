// Owns the page of all steps: by position, what is left first; found by a word; any of them taken up.

import { useState } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import { actsOf, type BriefStep, type StepActs, sharesOf } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { Aside } from "./aside.tsx";
import { byPlace } from "./by-place.ts";
import { LeftOver } from "./left-over.tsx";
import { concernOf, sayStep } from "./say.ts";
import { StepCard } from "./step-card.tsx";
import { useWork } from "./work.tsx";

/** Steps of a place that are drawn before more are asked for: of thousands nobody reads on, and a tablet draws them for seconds. */
const SHOWN = 40;

export const Steps = () => {
  const words = useWords();
  const { book } = useWork();
  const search = new URLSearchParams(useSearch());
  const [path, navigate] = useLocation();
  const [sought, setSought] = useState(search.get("find") ?? "");
  const [whole, setWhole] = useState<string>();
  const picked = search.has("step") ? Number(search.get("step")) : undefined;
  const setPicked = (step: number | undefined) => navigate(step === undefined ? path : `${path}?step=${step}`);
  const all = actsOf(book.ledger);
  const owners = new Map(
    [...sharesOf(book.ledger)].flatMap(([person, steps]) => steps.map((n) => [n, person] as const)),
  );
  const at = all.find(({ step }) => step.number === picked);
  const fits = ({ step }: StepActs) =>
    `${sayStep(words, book.brief, step)} ${step.id} ${step.position?.label ?? ""} ${step.number}`
      .toLowerCase()
      .includes(sought.trim().toLowerCase());
  const places = byPlace(all.filter(fits), ({ step }) => step.position?.label ?? "");
  // Of what nobody touched yet nothing is done, though nothing may be missing of it either: no look is owed where nothing was undone.
  const { ledger } = book;
  const isBegun = ({ id, verify }: BriefStep) =>
    [id, ...verify].some((one) => (ledger.joint(one).last ?? ledger.task(one).last) !== undefined);
  const person = (id: string | undefined) => book.brief.people.find((one) => one.id === id)?.label;
  if (at !== undefined)
    return (
      <div class="one-step">
        <button type="button" onClick={() => setPicked(undefined)}>
          ← {words.hand.leaves.steps}
        </button>
        <StepCard acts={at} onOver={() => setPicked(undefined)} />
        <Aside about={concernOf(at)} />
      </div>
    );
  return (
    <div class="all-steps">
      <label class="field">
        <span>{words.hand.search}</span>
        <input type="search" value={sought} onInput={({ currentTarget }) => setSought(currentTarget.value)} />
      </label>
      <LeftOver />
      {places.map(([place, steps]) => (
        <details key={place} open={sought !== "" || steps.some(({ over }) => !over)}>
          <summary>
            <b>{place}</b> <small>{words.hand.left(steps.filter(({ over }) => !over).length)}</small>
          </summary>
          <ul class="targets">
            {leftFirst(steps, place === whole).map(({ step, over, acts }) => (
              <li key={step.number} class={over && isBegun(step) ? "over" : ""}>
                <button type="button" onClick={() => setPicked(step.number)}>
                  <small>{step.number}</small>
                  <span>{sayStep(words, book.brief, step)}</span>
                  <small>
                    {over && isBegun(step)
                      ? words.hand.allDone
                      : isBegun(step) && acts.some(({ done }) => done)
                        ? `${acts.filter(({ done }) => done).length}/${acts.length}`
                        : (person(owners.get(step.number)) ?? "")}
                  </small>
                </button>
              </li>
            ))}
          </ul>
          {place === whole || steps.length <= SHOWN ? null : (
            <button type="button" class="more" onClick={() => setWhole(place)}>
              {words.hand.moreSteps(steps.length - SHOWN)}
            </button>
          )}
        </details>
      ))}
    </div>
  );
};

/** All of a place, or the first of it that are not over, in their order. */
const leftFirst = (steps: readonly StepActs[], isWhole: boolean): readonly StepActs[] => {
  if (isWhole || steps.length <= SHOWN) return steps;
  const from = Math.max(
    0,
    steps.findIndex(({ over }) => !over),
  );
  return steps.slice(Math.min(from, steps.length - SHOWN), from + SHOWN);
};

// Owns the word that a load is stopped: over every page of the run, on every device, until somebody who may says that it goes on.

import { mayEnd, Names, stopIn } from "../../ledger/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { HeldButton } from "../sheet/held-button.tsx";
import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

export const Stopped = () => {
  const words = useWords();
  const figures = useFigures();
  const { book, me, enter } = useWork();
  const { ledger, brief } = book;
  const names = new Names(brief);
  return (
    <>
      {brief.lifts.map(({ task }) => {
        const stop = stopIn(ledger, task);
        return stop === undefined ? null : (
          <section key={task} class="stopped" role="alert">
            <h1>{words.gates.stopped}</h1>
            <p>
              {names.label(task)}. {words.gates.stoppedBy(names.person(stop.author), figures.time(stop.at))}
            </p>
            {me !== undefined && mayEnd(ledger, task, stop, me.id) ? (
              <HeldButton
                label={words.gates.goOn}
                about={names.label(task)}
                onHeld={() => void enter({ kind: "resumed", about: task })}
              />
            ) : null}
          </section>
        );
      })}
    </>
  );
};

// Owns the page of a change of shift: what is half done, where things lie, what is off, who is where; handed over and taken over by name.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { Names, progressOf, shiftPage } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { Contradictions } from "./contradictions.tsx";
import { Notes } from "./notes.tsx";
import { useWork } from "./work.tsx";

export const Shift = () => {
  const words = useWords();
  const { book, me, enter } = useWork();
  const [to, setTo] = useState("");
  const { ledger, brief } = book;
  const page = shiftPage(ledger);
  const names = new Names(brief);
  const handed = ledger.list("shift", "handing over", "taken over").at(-1);
  const waiting = handed?.body.kind === "handing over" ? { from: handed.author, to: handed.body.to } : undefined;
  const isQuiet = [page.snug, page.half, page.toVerify, page.findings, page.contradictions].every(
    ({ length }) => length === 0,
  );
  return (
    <div class="shift">
      <h1>
        {words.gates.shift}{" "}
        {progressOf(ledger).planned === 0 ? null : (
          <small>{words.gates.percent(page.percentApart, page.percentBack)}</small>
        )}
      </h1>
      {waiting === undefined ? null : (
        <p class="notice">
          {words.gates.handing(names.person(waiting.from), names.person(waiting.to))}{" "}
          {me?.id === waiting.to ? (
            <button type="button" class="main" onClick={() => void enter({ kind: "taken over", from: waiting.from })}>
              {words.gates.takeFrom(names.person(waiting.from))}
            </button>
          ) : null}
        </p>
      )}
      <Contradictions />
      {isQuiet ? <p>{words.gates.nothingOpen}</p> : null}
      <Part title={words.gates.snug} lines={page.snug.map(({ label, where, by }) => line(label, where?.label, by))} />
      <Part title={words.gates.half} lines={page.half.map(({ label, where, by }) => line(label, where?.label, by))} />
      <Part
        title={words.gates.toVerify}
        lines={page.toVerify.map(({ label, where, who }) => line(label, where?.label, who))}
      />
      <Part title={words.gates.lying} lines={page.lying.map(({ label, where }) => `${label}: ${where}`)} />
      <Part title={words.gates.off} lines={page.off.map(({ energy, key }) => `${energy}, ${words.gates.key(key)}`)} />
      <Part
        title={words.gates.on}
        lines={page.on.map(({ label, drained }) =>
          [label, ...Object.entries(drained).map(([fluid, amount]) => `${fluid} ${amount}`)].join(", "),
        )}
      />
      <Part title={words.gates.things} lines={page.things.map(({ item, count }) => `${count} × ${item}`)} />
      <Part title={words.gates.tools} lines={page.tools.map(({ tool, count }) => `${count} × ${tool}`)} />
      <Part
        title={words.gates.claims}
        lines={page.claims.map(({ place, people }) => `${place}: ${people.join(", ")}`)}
      />
      <Part title={words.gates.openFindings} lines={page.findings.map(({ found }) => found.text)} />
      <Part
        title={words.gates.nextSteps}
        lines={page.next.map(({ number, label, position }) => line(`${number} ${label}`, position?.label, []))}
      />
      <Notes />
      {me === undefined ? null : (
        <form
          class="approval no-print"
          onSubmit={(event) => {
            event.preventDefault();
            void enter({ kind: "handing over", to });
          }}
        >
          <label class="field">
            <span>{words.gates.handTo}</span>
            <select required value={to} onChange={({ currentTarget }) => setTo(currentTarget.value)}>
              <option value="">–</option>
              {brief.people
                .filter(({ id }) => id !== me.id)
                .map(({ id, label }) => (
                  <option key={id} value={id}>
                    {label}
                  </option>
                ))}
            </select>
          </label>
          <button type="submit">{words.hand.handOver}</button>
          <button type="button" onClick={() => print()}>
            {words.gates.print}
          </button>
        </form>
      )}
    </div>
  );
};

const line = (label: string, place: string | undefined, people: readonly string[]): string =>
  [label, ...(place === undefined ? [] : [place]), ...(people.length === 0 ? [] : [people.join(", ")])].join(" · ");

const Part = ({ title, lines }: { readonly title: string; readonly lines: readonly ComponentChildren[] }) =>
  lines.length === 0 ? null : (
    <section>
      <h2>{title}</h2>
      <ul>
        {lines.map((one, n) => (
          <li key={n}>{one}</li>
        ))}
      </ul>
    </section>
  );

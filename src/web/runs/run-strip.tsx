// Owns the strip over a run's chart: how far it is, what comes next, what was found.

import type { RunDocument } from "../../server/index.ts";
import { verbBefore } from "../sheet/step-words.ts";
import { useWords } from "../words/words.ts";

export const RunStrip = ({ run }: { readonly run: RunDocument }) => {
  const words = useWords();
  const [next] = run.next;
  const open = run.findings.filter(({ state }) => state === "open");
  return (
    <div class="run-strip" aria-live="polite">
      <p>
        <b>{words.runs.apart(run.apart, run.planned)}</b> {words.runs.verified(run.loose)}
        {run.back > 0 ? `, ${words.runs.back(run.back)}` : ""}
        {run.closed === null ? "" : `. ${words.runs.closed}`}
      </p>
      {next === undefined ? null : (
        <p>
          {words.runs.next}: {verbBefore(words, next.action)}
          {next.label}
          {next.position === undefined ? "" : `, ${next.position}`}
        </p>
      )}
      {open.length === 0 ? null : (
        <p>
          {words.runs.found(open.length)}: {open.map(({ text, what }) => text || what).join("; ")}
        </p>
      )}
      {run.contradictions.map(({ key, says }) => (
        <p key={key} class="notice">
          {says}
        </p>
      ))}
    </div>
  );
};

// Owns what was not said and matters: the remarks of a draft with the way to what they are about, and what check would look at.

import type { Remark } from "../../draft/index.ts";
import type { ReadSaid } from "../engine/asked.ts";
import { useWords } from "../words/words.ts";

interface RemarksProps {
  readonly remarks: readonly Remark[];
  readonly reading: ReadSaid;
  readonly onChoose: (id: string) => void;
  readonly onSettle: (remark: number) => void;
}

/** Doubts that are shown. */
const SHOWN = 30;

export const Remarks = ({ remarks, reading, onChoose, onSettle }: RemarksProps) => {
  const words = useWords();
  const there = (id: string) => reading.places[id] !== undefined;
  const shown = remarks
    .map((remark, n) => ({ remark, n }))
    .filter(({ remark }) => remark.about.length === 0 || reading.vehicle === undefined || remark.about.some(there));
  return (
    <section class="remarks" aria-labelledby="remarks">
      <h2 id="remarks">
        {words.drafts.remarks} <span class="soft">{shown.length}</span>
      </h2>
      <p class="small soft">{shown.length === 0 ? words.drafts.noRemarks : words.drafts.remarksFull}</p>
      <ul>
        {shown.map(({ remark, n }) => {
          const about = remark.about.find(there);
          return (
            <li key={`${remark.rule} ${remark.text}`}>
              <p lang="en">{remark.text}</p>
              <p class="row">
                {about === undefined ? null : (
                  <button type="button" onClick={() => onChoose(about)}>
                    {words.drafts.goTo}
                  </button>
                )}
                <button type="button" class="plain" onClick={() => onSettle(n)}>
                  {words.drafts.settle}
                </button>
              </p>
            </li>
          );
        })}
      </ul>
      {reading.warnings.length === 0 ? null : (
        <details>
          <summary>{words.drafts.warnings(reading.warnings.length)}</summary>
          <ul class="small" lang="en">
            {reading.warnings.slice(0, SHOWN).map(({ what, mend, at }) => (
              <li key={`${at.line} ${what}`}>
                {what} {mend}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
};

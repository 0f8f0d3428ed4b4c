// Owns what was not said and matters: thought anew after each change, with the way to what it is about; what was put aside stays aside, and what check would look at.

import { useMemo } from "preact/hooks";
import type { Remark } from "../../draft/index.ts";
import type { ReadSaid } from "../engine/asked.ts";
import { useEngine } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { useCalm } from "./calm.ts";
import type { Desk } from "./desk.ts";

interface RemarksProps {
  readonly kept: Desk["kept"];
  readonly reading: ReadSaid;
  readonly onChoose: (id: string) => void;
  readonly onSettle: Desk["settle"];
}

/** Doubts that are shown. */
const SHOWN = 30;

/** What a remark is put aside by: its rule and each thing that it is about, so that another thing brings it back. */
const namesOf = ({ rule, about }: Remark): readonly string[] =>
  about.length === 0 ? [rule] : about.map((id) => `${rule} ${id}`);

/** The remarks of the draft as it is; those of the telling as long as nothing better is known. */
const useRemarks = ({ heard, remarks }: Desk["kept"]): readonly Remark[] => {
  const asked = useMemo(() => (heard === undefined ? undefined : { heard }), [heard]);
  return useEngine("remarks", useCalm(), asked).data ?? remarks;
};

export const Remarks = ({ kept, reading, onChoose, onSettle }: RemarksProps) => {
  const words = useWords();
  const { aside = [] } = kept;
  const there = (id: string) => reading.places[id] !== undefined;
  const remarks = useRemarks(kept).filter(
    ({ about }) => about.length === 0 || reading.vehicle === undefined || about.some(there),
  );
  const shown = remarks.filter((remark) => !namesOf(remark).every((name) => aside.includes(name)));
  return (
    <section class="remarks" aria-labelledby="remarks">
      <h2 id="remarks">
        {words.drafts.remarks} <span class="soft">{shown.length}</span>
      </h2>
      {shown.length === 0 ? <p class="small soft">{words.drafts.noRemarks}</p> : null}
      <ul>
        {shown.map((remark) => {
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
                <button type="button" class="plain" onClick={() => onSettle([...aside, ...namesOf(remark)])}>
                  {words.drafts.settle}
                </button>
              </p>
            </li>
          );
        })}
      </ul>
      {remarks.length === shown.length ? null : (
        <p>
          <button type="button" class="plain small" onClick={() => onSettle([])}>
            {words.drafts.showAside(remarks.length - shown.length)}
          </button>
        </p>
      )}
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

// Owns the list of a draft: the same as the chart in words, by position, for the eye that scans, the hand on the keys, and those who do not see the picture.

import { memo } from "preact/compat";
import { KIND_MARKS } from "../ties/kind-marks.ts";
import { useWords } from "../words/words.ts";
import type { Group, Row } from "./rows.ts";

/** Rows of one group that are shown. */
export const FEW = 200;

interface ListProps {
  readonly groups: readonly Group[];
  readonly chosen: string | undefined;
  readonly merging: string | undefined;
  readonly onChoose: (id: string) => void;
}

export const DraftList = ({ groups, chosen, merging, onChoose }: ListProps) => {
  const words = useWords();
  const named = ({ is, label }: Group) =>
    is === "parts" ? words.drafts.parts : is === "tasks" ? words.drafts.tasks : (label ?? words.drafts.anywhere);
  return (
    <section class="draft-list" aria-label={words.drafts.list}>
      {groups.map((group) => (
        <section key={group.id}>
          <h3>
            {named(group)} <span class="soft">{group.rows.length}</span>
          </h3>
          <ol>
            {group.rows.slice(0, FEW).map((row) => (
              <One
                key={row.id}
                row={row}
                isChosen={row.id === chosen}
                isMerging={row.id === merging}
                onChoose={onChoose}
              />
            ))}
          </ol>
          {group.rows.length > FEW ? <p class="small soft">{words.drafts.moreRows(group.rows.length - FEW)}</p> : null}
        </section>
      ))}
    </section>
  );
};

interface OneProps {
  readonly row: Row;
  readonly isChosen: boolean;
  readonly isMerging: boolean;
  readonly onChoose: (id: string) => void;
}

/** Drawn anew only when it changes itself. */
const One = memo(
  ({ row, isChosen, isMerging, onChoose }: OneProps) => {
    const words = useWords();
    const mark = row.kind === undefined ? undefined : KIND_MARKS[row.kind];
    return (
      <li>
        <button
          type="button"
          class={`row${row.assumed.length > 0 ? " to-look" : ""}${isMerging ? " merging" : ""}`}
          aria-pressed={isChosen}
          data-row={row.id}
          onClick={() => onChoose(row.id)}
        >
          <svg viewBox="-7 -7 14 14" aria-hidden="true">
            {mark === undefined ? null : <path class={mark.solid === true ? "mark solid" : "mark"} d={mark.mark} />}
          </svg>
          <span class="name">{row.label}</span>
          <small>
            {row.kind === undefined ? null : <span class="unseen">{words.kinds[row.kind]}, </span>}
            {row.count === undefined ? "" : `× ${row.count}`}
            {row.assumed.length > 0 ? (
              <>
                {" "}
                <span aria-hidden="true">?</span>
                <span class="unseen">{words.drafts.assumed}</span>
              </>
            ) : null}
          </small>
        </button>
      </li>
    );
  },
  (before, after) =>
    before.isChosen === after.isChosen &&
    before.isMerging === after.isMerging &&
    before.onChoose === after.onChoose &&
    before.row.label === after.row.label &&
    before.row.kind === after.row.kind &&
    before.row.count === after.row.count &&
    before.row.assumed.length === after.row.assumed.length,
);

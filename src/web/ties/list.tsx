// Owns the list beside the chart: the same ties in words, by position, for the eye that scans and for those who do not see the picture.

import { memo } from "preact/compat";
import { useWords } from "../words/words.ts";
import { KIND_MARKS } from "./kind-marks.ts";
import type { Scene, Standing, Tie } from "./scene.ts";

interface ListProps {
  readonly scene: Scene;
  readonly standing: ReadonlyMap<string, Standing>;
  readonly found: ReadonlySet<string> | undefined;
  readonly chosen?: string;
  readonly onChoose: (id: string) => void;
}

/** Rows of one position that are shown before somebody asks for all. */
const FEW = 400;

export const TieList = ({ scene, standing, found, chosen, onChoose }: ListProps) => {
  const words = useWords();
  const shown = found === undefined ? scene.ties : scene.ties.filter(({ id }) => found.has(id));
  if (shown.length === 0) return <p class="soft">{words.ties.noneFound}</p>;
  const places = [...scene.positions, { id: "", label: words.ties.anywhere }];
  return (
    <div class="tie-list">
      {places.map(({ id, label }) => {
        const own = shown.filter(({ position }) => position === id);
        if (own.length === 0) return null;
        const tied = own.filter((tie) => standing.get(tie.id) === "tied").length;
        return (
          <section key={id}>
            <h2>
              {label} <small class="soft">{words.ties.tiedOf(tied, own.length)}</small>
            </h2>
            <ol>
              {own
                .toSorted((a, b) => (a.step ?? Number.POSITIVE_INFINITY) - (b.step ?? Number.POSITIVE_INFINITY))
                .slice(0, FEW)
                .map((tie) => (
                  <Row
                    key={tie.id}
                    tie={tie}
                    standing={standing.get(tie.id) ?? "slack"}
                    isChosen={tie.id === chosen}
                    onChoose={onChoose}
                  />
                ))}
            </ol>
            {own.length > FEW ? <p class="soft">{words.ties.more(own.length - FEW)}</p> : null}
          </section>
        );
      })}
    </div>
  );
};

interface RowProps {
  readonly tie: Tie;
  readonly standing: Standing;
  readonly isChosen: boolean;
  readonly onChoose: (id: string) => void;
}

/** Drawn anew only when it stands otherwise. */
const Row = memo(({ tie, standing, isChosen, onChoose }: RowProps) => {
  const words = useWords();
  const mark = KIND_MARKS[tie.kind];
  return (
    <li>
      <button type="button" class={`row ${standing}`} aria-pressed={isChosen} onClick={() => onChoose(tie.id)}>
        <span class="number">{tie.step ?? ""}</span>
        <svg viewBox="-7 -7 14 14" aria-hidden="true">
          <path class={mark.solid === true ? "mark solid" : "mark"} d={mark.mark} />
        </svg>
        <span class="name">{tie.label}</span>
        <small>
          <span class="unseen">{words.kinds[tie.kind]}, </span>
          {words.ties.standing[standing]}
        </small>
      </button>
    </li>
  );
});

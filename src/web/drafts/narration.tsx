// Owns what was told, passage by passage: those of the chosen thing are marked, the one that is being said goes along, and each leads to what was heard in it.

import { memo } from "preact/compat";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { useWords } from "../words/words.ts";
import { clock, type Passage } from "./passages.ts";

/** Passages that are drawn at once. */
const DRAWN = 240;

interface NarrationProps {
  readonly passages: readonly Passage[];
  /** Those that the chosen thing comes from. */
  readonly marked: ReadonlySet<number>;
  /** The one that is being said. */
  readonly now: number | undefined;
  /** How many things were heard in each. */
  readonly heard: ReadonlyMap<number, number>;
  readonly onPassage: (passage: Passage) => void;
}

export const Narration = ({ passages, marked, now, heard, onPassage }: NarrationProps) => {
  const words = useWords();
  const list = useRef<HTMLDivElement>(null);
  const [from, setFrom] = useState(0);
  const first = Math.min(...marked, Number.POSITIVE_INFINITY);
  const goal = now ?? (Number.isFinite(first) ? first : undefined);
  const most = Math.max(0, passages.length - DRAWN);
  // What is gone to is among those that are drawn, and seen.
  useEffect(() => {
    if (goal !== undefined && (goal < from || goal >= from + DRAWN))
      setFrom(Math.min(most, Math.max(0, goal - Math.floor(DRAWN / 3))));
  }, [goal, from, most]);
  useEffect(() => {
    const box = list.current;
    const found = goal === undefined ? null : box?.querySelector<HTMLElement>(`[data-passage="${goal}"]`);
    if (box == null || found == null) return;
    const [top, bottom] = [found.offsetTop - box.offsetTop, found.offsetTop - box.offsetTop + found.offsetHeight];
    if (top < box.scrollTop || bottom > box.scrollTop + box.clientHeight) box.scrollTop = top - box.clientHeight / 3;
  }, [goal, from]);
  const shown = useMemo(() => passages.slice(from, from + DRAWN), [passages, from]);
  if (passages.length === 0) return <p class="soft">{words.drafts.noNarration}</p>;
  const after = passages.length - from - shown.length;
  const isOneFile = passages[0]?.file === passages.at(-1)?.file;
  return (
    <div class="passages" ref={list}>
      {from > 0 ? (
        <button type="button" class="small" onClick={() => setFrom(Math.max(0, from - DRAWN))}>
          {words.drafts.earlier(from)}
        </button>
      ) : null}
      <ol>
        {shown.map((passage, n) => (
          <li key={passage.n}>
            {!isOneFile && passage.file !== shown[n - 1]?.file ? <h3>{passage.file}</h3> : null}
            <One
              passage={passage}
              isMarked={marked.has(passage.n)}
              isNow={passage.n === now}
              heard={heard.get(passage.n) ?? 0}
              onPassage={onPassage}
            />
          </li>
        ))}
      </ol>
      {after > 0 ? (
        <button type="button" class="small" onClick={() => setFrom(Math.min(most, from + DRAWN))}>
          {words.drafts.later(after)}
        </button>
      ) : null}
    </div>
  );
};

const One = memo(
  ({
    passage,
    isMarked,
    isNow,
    heard,
    onPassage,
  }: {
    readonly passage: Passage;
    readonly isMarked: boolean;
    readonly isNow: boolean;
    readonly heard: number;
    readonly onPassage: (passage: Passage) => void;
  }) => {
    const words = useWords();
    const place =
      passage.cue === undefined
        ? words.drafts.line(passage.line)
        : words.drafts.caption(passage.cue, passage.start === undefined ? "" : clock(passage.start));
    return (
      <button
        type="button"
        class={`passage${isMarked ? " marked" : ""}${isNow ? " now" : ""}${heard === 0 ? " unheard" : ""}`}
        aria-current={isMarked ? "true" : undefined}
        data-passage={passage.n}
        onClick={() => onPassage(passage)}
      >
        <small>{place}</small>
        <span>{passage.text}</span>
        <span class="unseen">, {words.drafts.heard(heard)}</span>
      </button>
    );
  },
);

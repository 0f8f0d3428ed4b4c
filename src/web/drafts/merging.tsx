// Owns the question with which other connection one is merged, and as what.

import { useWords } from "../words/words.ts";

interface MergingProps {
  readonly label: string;
  readonly canMerge: boolean;
  readonly onMerge: (together: boolean) => void;
  readonly onLeave: () => void;
}

export const Merging = ({ label, canMerge, onMerge, onLeave }: MergingProps) => {
  const words = useWords();
  return (
    <div class="notice merge" role="status">
      <p>{words.drafts.merging(label)}</p>
      <p class="row">
        <button type="button" class="main" disabled={!canMerge} onClick={() => onMerge(false)}>
          {words.drafts.mergeHere}{" "}
          <span class="key" aria-hidden="true">
            m
          </span>
        </button>
        <button type="button" disabled={!canMerge} onClick={() => onMerge(true)}>
          {words.drafts.mergeTogether}
        </button>
        <button type="button" class="plain" onClick={onLeave}>
          {words.drafts.cancel}
        </button>
      </p>
    </div>
  );
};

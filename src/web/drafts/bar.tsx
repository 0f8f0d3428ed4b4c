// Owns the bar above the chart of a draft: searching, and what can be done whatever is chosen.

import { useWords } from "../words/words.ts";
import { ACTIONS, type Action, type Situation } from "./actions.ts";
import { ActButton } from "./chosen.tsx";

interface BarProps {
  readonly query: string;
  readonly onQuery: (query: string) => void;
  readonly toLook: boolean;
  readonly onToLook: (toLook: boolean) => void;
  readonly situation: Situation;
  readonly onAct: (name: Action["name"]) => void;
}

export const Bar = ({ query, onQuery, toLook, onToLook, situation, onAct }: BarProps) => {
  const words = useWords();
  return (
    <div class="draft-bar">
      <label class="field">
        <span class="unseen">{words.drafts.find}</span>
        <input
          type="search"
          placeholder={`${words.drafts.find}  /`}
          value={query}
          onInput={({ currentTarget }) => onQuery(currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === "Escape" || event.key === "Enter") event.currentTarget.blur();
          }}
        />
      </label>
      <label class="check">
        <input type="checkbox" checked={toLook} onChange={({ currentTarget }) => onToLook(currentTarget.checked)} />
        {words.drafts.toLook}
      </label>
      <span class="acts">
        {ACTIONS.filter(({ ofChosen, name }) => !ofChosen && name !== "search").map((action) => (
          <ActButton key={action.name} action={action} onAct={onAct} disabled={!action.can(situation)} />
        ))}
      </span>
    </div>
  );
};

// Owns the choice of a time zone: the names that the browser knows, offered while one types.

import { useId } from "preact/hooks";
import { useWords } from "../words/words.ts";

/** The browser's own. */
export const ownZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Without duplicates of old names; those that the browser knows and nothing more. */
const zones = (): readonly string[] => [...new Set([...Intl.supportedValuesOf("timeZone"), "UTC"])];

export const ZoneField = ({ name, first }: { readonly name: string; readonly first: string }) => {
  const words = useWords();
  const [list, help] = [useId(), useId()];
  return (
    <label class="field">
      <span>{words.people.zone}</span>
      <input
        name={name}
        list={list}
        defaultValue={first}
        required
        autocomplete="off"
        spellcheck={false}
        aria-describedby={help}
      />
      <datalist id={list}>
        {zones().map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
      <small id={help}>{words.people.zoneHelp}</small>
    </label>
  );
};

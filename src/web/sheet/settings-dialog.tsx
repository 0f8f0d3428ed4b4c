// Owns the settings' dialog and the button that opens it.

import { useRef } from "preact/hooks";
import { LANGUAGES, type Language } from "../words/languages.ts";
import { useWords } from "../words/words.ts";
import type { Settings } from "./preferred.ts";
import { useSettings } from "./settings.ts";

export const SettingsButton = () => {
  const words = useWords();
  const { settings, change } = useSettings();
  const dialog = useRef<HTMLDialogElement>(null);
  return (
    <div class="cell settings">
      <button type="button" class="plain" onClick={() => dialog.current?.showModal()}>
        {words.sheet.settings}
      </button>
      <dialog ref={dialog} aria-labelledby="settings-title">
        <form method="dialog" class="stack">
          <h1 id="settings-title">{words.sheet.settings}</h1>
          <label class="field">
            <span>{words.sheet.language}</span>
            <select
              value={settings.language}
              onChange={({ currentTarget }) => change({ language: currentTarget.value as Language })}
            >
              {Object.entries(LANGUAGES).map(([id, name]) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <label class="field">
            <span>{words.sheet.units}</span>
            <select
              value={settings.units}
              onChange={({ currentTarget }) => change({ units: currentTarget.value as Settings["units"] })}
            >
              <option value="si">{words.sheet.si}</option>
              <option value="inch">{words.sheet.inch}</option>
            </select>
          </label>
          <label class="field">
            <span>{words.sheet.light}</span>
            <select
              value={settings.light}
              onChange={({ currentTarget }) => change({ light: currentTarget.value as Settings["light"] })}
            >
              {(["auto", "day", "night"] as const).map((light) => (
                <option key={light} value={light}>
                  {words.sheet[light]}
                </option>
              ))}
            </select>
          </label>
          <p class="small soft">{words.sheet.caution}</p>
          <button type="submit" class="main">
            {words.sheet.close}
          </button>
        </form>
      </dialog>
    </div>
  );
};

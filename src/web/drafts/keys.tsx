// Owns the list of keys of the drafts.

import { useEffect, useRef } from "preact/hooks";
import { useWords } from "../words/words.ts";
import { ACTIONS, keyName } from "./actions.ts";

export const Keys = ({ onClose }: { readonly onClose: () => void }) => {
  const words = useWords();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog ref={dialog} class="keys" aria-labelledby="keys" onClose={onClose}>
      <h2 id="keys">{words.drafts.keys}</h2>
      <p>{words.drafts.keysLead}</p>
      <dl>
        {ACTIONS.map(({ name, keys }) => (
          <div key={name}>
            <dt>
              {keys.map((key) => (
                <kbd key={key} class="key">
                  {keyName(key)}
                </kbd>
              ))}
            </dt>
            <dd>{words.drafts.actions[name]}</dd>
          </div>
        ))}
      </dl>
      <button type="button" onClick={() => dialog.current?.close()}>
        {words.sheet.close}
      </button>
    </dialog>
  );
};

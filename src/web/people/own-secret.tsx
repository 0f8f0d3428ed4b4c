// Owns the change of one's own PIN or password, against the old one.

import { useState } from "preact/hooks";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useWords } from "../words/words.ts";
import { keepSecret, type Secret } from "./members.ts";

/** @param byPin whether the old PIN is taken in place of the password: on a tablet that takes PINs */
export const OwnSecret = ({
  person,
  kind,
  byPin,
}: {
  readonly person: string;
  readonly kind: Secret;
  readonly byPin: boolean;
}) => {
  const words = useWords();
  const [old, setOld] = useState("");
  const [next, setNext] = useState("");
  const [fault, setFault] = useState<Refusal>();
  const [isDone, setDone] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const isPin = kind === "pin";
  const [title, oldLabel, newLabel, help] = isPin
    ? [
        words.account.changePin,
        byPin ? words.account.oldPin : words.account.ownPassword,
        words.account.newPin,
        words.account.newPinHelp,
      ]
    : [
        words.account.changePassword,
        words.account.oldPassword,
        words.account.newPassword,
        words.account.newPasswordHelp,
      ];
  const submit = async () => {
    setBusy(true);
    setFault(undefined);
    setDone(false);
    try {
      await keepSecret(person, kind, { new: next.trim(), [byPin ? "pin" : "password"]: old.trim() });
      setOld("");
      setNext("");
      setDone(true);
    } catch (error) {
      setFault(asRefusal(error));
    } finally {
      setBusy(false);
    }
  };
  const id = `own-${kind}`;
  return (
    <form
      class={isBusy ? "stack busy" : "stack"}
      aria-label={title}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <label class="field">
        <span>{oldLabel}</span>
        <input
          type="password"
          value={old}
          required
          autocomplete={byPin ? "off" : "current-password"}
          inputMode={byPin ? "numeric" : "text"}
          onInput={({ currentTarget }) => setOld(currentTarget.value)}
        />
      </label>
      <label class="field">
        <span>{newLabel}</span>
        <input
          type="password"
          value={next}
          required
          autocomplete={isPin ? "off" : "new-password"}
          inputMode={isPin ? "numeric" : "text"}
          aria-describedby={id}
          onInput={({ currentTarget }) => setNext(currentTarget.value)}
        />
        <small id={id}>{help}</small>
      </label>
      <Refused fault={fault} />
      {isDone ? <p role="status">{isPin ? words.account.pinChanged : words.account.passwordChanged}</p> : null}
      <p>
        <button type="submit" disabled={isBusy}>
          {title}
        </button>
      </p>
    </form>
  );
};

// Owns signing in by password or passkey, and the change of a start password.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { asRefusal, kindOf, Refused } from "../sheet/refused.tsx";
import { Refusal } from "../shop/calls.ts";
import { useDoor, useEntrance } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { canShowPasskey, showPasskey } from "./passkey.ts";

export const ByPassword = ({ done, children }: { readonly done: () => void; readonly children: ComponentChildren }) => {
  const words = useWords();
  const door = useDoor();
  const entrance = useEntrance();
  const [fault, setFault] = useState<Refusal>();
  const [isBusy, setBusy] = useState(false);
  /** A start password was given by a foreman: one's own is asked for. */
  const [mustChange, setMustChange] = useState(false);

  const enter = async (way: () => Promise<void>) => {
    setBusy(true);
    setFault(undefined);
    try {
      await way();
      done();
    } catch (error) {
      const refusal = asRefusal(error);
      // That it is a start password is no fault of whoever types it; what is wrong with the new one is.
      const isFirst = kindOf(refusal) === "change-first" && !mustChange;
      if (isFirst) setMustChange(true);
      else setFault(refusal);
    } finally {
      setBusy(false);
    }
  };
  const submit = (form: HTMLFormElement) => {
    const given = (name: string) => String(new FormData(form).get(name) ?? "");
    return enter(() =>
      entrance.signIn({
        person: given("person").trim(),
        password: given("password").trim(),
        ...(mustChange ? { next: given("next").trim() } : {}),
      }),
    );
  };
  const none = (cause: unknown) => new Refusal(400, words.door.noPasskey, words.door.noPasskeyMend, {}, { cause });
  const byPasskey = () =>
    enter(async () => {
      try {
        await showPasskey();
      } catch (error) {
        if (error instanceof Refusal) throw error;
        throw none(error);
      }
      await entrance.anew();
    });
  return (
    <form
      class={isBusy ? "sign-in stack busy" : "sign-in stack"}
      onSubmit={(event) => {
        event.preventDefault();
        void submit(event.currentTarget);
      }}
    >
      <h1>{words.sheet.signIn}</h1>
      {door.isError ? <p class="notice">{words.sheet.offline}</p> : null}
      <label class="field">
        <span>{words.start.fields.person}</span>
        <input name="person" required autocomplete="username" autocapitalize="none" spellcheck={false} />
      </label>
      <label class="field">
        <span>{words.start.fields.password}</span>
        <input name="password" required type="password" autocomplete="current-password" />
      </label>
      {mustChange ? (
        <>
          <p class="notice" role="alert">
            {words.door.chooseOwnPassword}
          </p>
          <label class="field">
            <span>{words.start.fields.next}</span>
            <input name="next" required type="password" autocomplete="new-password" ref={(input) => input?.focus()} />
          </label>
        </>
      ) : null}
      <Refused fault={fault} />
      <p class="onward">
        <button type="submit" class="main" disabled={isBusy}>
          {words.sheet.signIn}
        </button>
        {canShowPasskey() ? (
          <button type="button" disabled={isBusy} onClick={() => void byPasskey()}>
            {words.door.passkey}
          </button>
        ) : null}
        {children}
      </p>
    </form>
  );
};

// Owns the first set-up of a shop, in the browser: whoever has the code from the console becomes its first foreman.

import { useState } from "preact/hooks";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useDoor, useEntrance } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { ownZone, ZoneField } from "./zone-field.tsx";

export const SetUp = ({ done }: { readonly done: () => void }) => {
  const words = useWords();
  const door = useDoor();
  const entrance = useEntrance();
  const [fault, setFault] = useState<Refusal>();
  const [isBusy, setBusy] = useState(false);
  const submit = async (form: HTMLFormElement) => {
    const given = (name: string) => String(new FormData(form).get(name) ?? "").trim();
    setBusy(true);
    setFault(undefined);
    try {
      await entrance.setUp({
        code: given("code"),
        person: given("person"),
        name: given("name"),
        password: given("password"),
        site: given("site"),
        zone: given("zone"),
      });
      done();
    } catch (error) {
      setFault(asRefusal(error));
    } finally {
      setBusy(false);
    }
  };
  const field = (name: keyof typeof words.start.fields, more: Readonly<Record<string, unknown>> = {}) => (
    <label class="field">
      <span>{words.start.fields[name]}</span>
      <input name={name} required {...more} />
    </label>
  );
  return (
    <form
      class={isBusy ? "sign-in stack busy" : "sign-in stack"}
      onSubmit={(event) => {
        event.preventDefault();
        void submit(event.currentTarget);
      }}
    >
      <h1>{words.start.setUp}</h1>
      <p>{words.start.setUpHow}</p>
      {door.isError ? <p class="notice">{words.sheet.offline}</p> : null}
      {field("code", { autocomplete: "off", autocapitalize: "characters", spellcheck: false })}
      {field("person", { autocomplete: "username", autocapitalize: "none", spellcheck: false })}
      {field("name", { autocomplete: "name" })}
      {field("site", { autocomplete: "organization" })}
      <ZoneField name="zone" first={ownZone()} />
      {field("password", { type: "password", autocomplete: "new-password" })}
      <Refused fault={fault} />
      <p>
        <button type="submit" class="main" disabled={isBusy}>
          {words.start.setUp}
        </button>
      </p>
    </form>
  );
};

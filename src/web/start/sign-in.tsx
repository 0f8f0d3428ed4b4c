// Owns signing in, and the first set-up of a shop.

import { useEffect, useState } from "preact/hooks";
import { Link, useLocation, useSearch } from "wouter-preact";
import { SettingsButton } from "../sheet/settings-dialog.tsx";
import { Frame, Mark } from "../sheet/sheet.tsx";
import { Refusal } from "../shop/calls.ts";
import { useDoor, useEntrance } from "../shop/door.ts";
import { useWords } from "../words/words.ts";

/** Only an address of this page is gone to afterwards. */
const goalOf = (search: string): string => {
  const to = new URLSearchParams(search).get("to") ?? "/";
  return /^\/(?!\/)/.test(to) ? to : "/";
};

export const SignIn = () => {
  const words = useWords();
  const door = useDoor();
  const [, navigate] = useLocation();
  const goal = goalOf(useSearch());
  const entrance = useEntrance();
  const [fault, setFault] = useState<Refusal>();
  const [isBusy, setBusy] = useState(false);
  /** A start secret was given by a foreman: one's own is asked for. */
  const [mustChange, setMustChange] = useState(false);
  const isSetUp = door.data?.setup === true;
  useEffect(() => {
    document.title = `${isSetUp ? words.start.setUp : words.sheet.signIn} – ${words.sheet.app}`;
  }, [isSetUp, words]);

  const submit = async (form: HTMLFormElement) => {
    const given = (name: string) => String(new FormData(form).get(name) ?? "").trim();
    setBusy(true);
    setFault(undefined);
    try {
      if (isSetUp)
        await entrance.setUp({
          code: given("code"),
          person: given("person"),
          name: given("name"),
          password: given("password"),
          site: given("site"),
        });
      else await entrance.signIn(given("person"), given("password"), mustChange ? given("next") : undefined);
      navigate(goal);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (/start/.test(error.what)) setMustChange(true);
      setFault(error);
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
    <Frame
      block={
        <footer class="title-block">
          <Link class="cell mark" href="/">
            <Mark />
            <b>
              {words.sheet.app}
              <span class="unseen">: {words.sheet.home}</span>
            </b>
          </Link>
          <div class="cell job" />
          <SettingsButton />
        </footer>
      }
    >
      {door.isLoading ? (
        <p class="waiting busy">{words.sheet.reading}</p>
      ) : (
        <form
          class={isBusy ? "sign-in stack busy" : "sign-in stack"}
          onSubmit={(event) => {
            event.preventDefault();
            void submit(event.currentTarget);
          }}
        >
          <h1>{isSetUp ? words.start.setUp : words.sheet.signIn}</h1>
          {isSetUp ? <p>{words.start.setUpHow}</p> : null}
          {door.isError ? <p class="notice">{words.sheet.offline}</p> : null}
          {isSetUp ? field("code", { autocomplete: "off" }) : null}
          {field("person", { autocomplete: "username", autocapitalize: "none", spellcheck: false })}
          {isSetUp ? field("name", { autocomplete: "name" }) : null}
          {isSetUp ? field("site", { autocomplete: "organization" }) : null}
          {field("password", { type: "password", autocomplete: isSetUp ? "new-password" : "current-password" })}
          {mustChange ? field("next", { type: "password", autocomplete: "new-password" }) : null}
          {fault === undefined ? null : (
            <p class="notice" role="alert">
              <b>{fault.what}.</b> {fault.mend}
            </p>
          )}
          <p>
            <button type="submit" class="main" disabled={isBusy}>
              {isSetUp ? words.start.setUp : words.sheet.signIn}
            </button>{" "}
            <Link href="/">{words.start.withoutSigningIn}</Link>
          </p>
        </form>
      )}
    </Frame>
  );
};

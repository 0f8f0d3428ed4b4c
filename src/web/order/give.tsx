// Owns the giving of an order to the shop: its name, the machine, who works on it; then its run begins.

import { useQueryClient } from "@tanstack/preact-query";
import { useRef, useState } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import { roleName } from "../people/role-words.ts";
import { useFigures } from "../sheet/figures.ts";
import { sayRefusal } from "../sheet/refused.tsx";
import { Refusal } from "../shop/calls.ts";
import { useMe } from "../shop/door.ts";
import { useModel } from "../shop/model.tsx";
import { giveOrder, usePeople } from "../shop/runs.ts";
import { useWords } from "../words/words.ts";
import { usePlan } from "./use-plan.ts";

/** The first site where somebody is foreman. */
const siteOf = (sites: Readonly<Record<string, readonly string[]>> | undefined): string | undefined =>
  Object.entries(sites ?? {}).find(([, roles]) => roles.includes("foreman"))?.[0];

export const Give = () => {
  const words = useWords();
  const figures = useFigures();
  const { base, isDraft, version, run } = useModel();
  const { order } = usePlan();
  const me = useMe();
  const site = siteOf(me?.sites);
  const people = usePeople(site);
  const queries = useQueryClient();
  const [, navigate] = useLocation();
  const dialog = useRef<HTMLDialogElement>(null);
  const giving = useRef<AbortController>();
  const [isBusy, setBusy] = useState(false);
  const [fault, setFault] = useState<{ readonly what: string; readonly mend: string }>();
  if (run !== undefined) return null;
  if (base.from !== "vehicles" || isDraft) return <p class="small soft">{words.runs.onlyKept}</p>;
  if (site === undefined || order === undefined)
    return (
      <p class="small soft">
        {words.runs.onlySignedIn} <Link href="/sign-in">{words.sheet.signIn}</Link>
      </p>
    );
  const submit = async (form: HTMLFormElement) => {
    const data = new FormData(form);
    const id = String(data.get("id")).trim();
    const machine = String(data.get("machine") ?? "").trim();
    const chosen = data.getAll("person").map(String);
    if (chosen.length < 2) return setFault({ what: words.runs.two, mend: "" });
    setBusy(true);
    setFault(undefined);
    giving.current = new AbortController();
    try {
      await giveOrder(
        id,
        { site, vehicle: base.id, version, people: chosen, order, ...(machine === "" ? {} : { machine }) },
        giving.current.signal,
      );
      await queries.invalidateQueries({ queryKey: ["orders"] });
      dialog.current?.close();
      navigate(`/runs/${encodeURIComponent(id)}/ties`);
    } catch (error) {
      if (giving.current.signal.aborted) return;
      setFault(
        error instanceof Refusal
          ? sayRefusal(words, error)
          : { what: words.sheet.failed, mend: error instanceof Error ? error.message : "" },
      );
    } finally {
      setBusy(false);
    }
  };
  return (
    <section>
      <button type="button" class="main" onClick={() => dialog.current?.showModal()}>
        {words.runs.give}
      </button>
      <dialog ref={dialog} aria-labelledby="give-title" onClose={() => giving.current?.abort()}>
        <form
          class={isBusy ? "stack busy" : "stack"}
          onSubmit={(event) => {
            event.preventDefault();
            void submit(event.currentTarget);
          }}
        >
          <h1 id="give-title">{words.runs.give}</h1>
          <p>{words.runs.giveHow}</p>
          <label class="field">
            <span>{words.runs.name}</span>
            <input
              name="id"
              required
              maxLength={60}
              defaultValue={`${base.id}-${figures.isoDate(Date.now())}`}
              autocapitalize="none"
            />
          </label>
          <label class="field">
            <span>{words.runs.machine}</span>
            <input name="machine" maxLength={60} />
          </label>
          <fieldset>
            <legend>{words.runs.who}</legend>
            <ul>
              {(people.data ?? []).map(({ person, name, sites }) => (
                <li key={person}>
                  <label>
                    <input type="checkbox" name="person" value={person} defaultChecked />
                    <span>
                      {name}{" "}
                      <small class="soft">{(sites[site] ?? []).map((role) => roleName(words, role)).join(", ")}</small>
                    </span>
                  </label>
                </li>
              ))}
            </ul>
            {people.data !== undefined && people.data.length < 2 ? <p class="small">{words.runs.alone}</p> : null}
          </fieldset>
          {fault === undefined ? null : (
            <p class="notice" role="alert">
              <b>{fault.what}</b> {fault.mend}
            </p>
          )}
          {isBusy ? <p aria-live="polite">{words.runs.giving}</p> : null}
          <p>
            <button type="submit" class="main" disabled={isBusy}>
              {words.runs.give}
            </button>{" "}
            <button type="button" onClick={() => dialog.current?.close()}>
              {words.sheet.cancel}
            </button>
          </p>
        </form>
      </dialog>
    </section>
  );
};

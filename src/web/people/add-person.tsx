// Owns the form of somebody new: what he is called, what he may do, and what he signs in with the first time.

import { useQueryClient } from "@tanstack/preact-query";
import { useRef, useState } from "preact/hooks";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import { useTyped } from "../sheet/typed.ts";
import type { Refusal } from "../shop/calls.ts";
import { useMe } from "../shop/door.ts";
import { useSites } from "../shop/sites.ts";
import { useWords } from "../words/words.ts";
import { foremanAt, idFrom, keepMember, keepSecret, skillsIn } from "./members.ts";
import { RoleBoxes } from "./role-boxes.tsx";
import { StartSecret } from "./start-secret.tsx";

interface Typed {
  readonly name: string;
  /** Undefined as long as it follows the name. */
  readonly person?: string;
  readonly skills: string;
  readonly roles: readonly string[];
}

const EMPTY: Typed = { name: "", skills: "", roles: ["mechanic"] };

export const AddPerson = ({ close }: { readonly close: () => void }) => {
  const words = useWords();
  const me = useMe();
  const queries = useQueryClient();
  const sites = useSites().filter(({ site }) => me !== undefined && (me.steward || foremanAt(me).includes(site)));
  const [typed, setTyped] = useTyped<Typed>("people/add", EMPTY);
  const [chosen, setChosen] = useTyped<string | undefined>("people/add/site", undefined);
  const [pin, setPin] = useState("");
  const [password, setPassword] = useState("");
  const [fault, setFault] = useState<{ readonly refusal: Refusal; readonly isThere: boolean }>();
  const [missing, setMissing] = useState<string>();
  const [added, setAdded] = useState<string>();
  const [isBusy, setBusy] = useState(false);
  /** Where he is kept already and his PIN or password was not taken: he is changed then, not made anew. */
  const kept = useRef<{ readonly person: string; readonly etag: string }>();
  const first = useRef<HTMLInputElement>(null);
  const site = sites.find((one) => one.site === chosen) ?? sites[0];
  const { name, skills, roles } = typed;
  const person = typed.person ?? idFrom(name);
  const set = (part: Partial<Typed>) => {
    setAdded(undefined);
    setMissing(undefined);
    setTyped({ ...typed, ...part });
  };

  const submit = async () => {
    if (site === undefined) return;
    if (roles.length === 0) return setMissing(words.people.needsRole);
    setBusy(true);
    setFault(undefined);
    setMissing(undefined);
    setAdded(undefined);
    let isThere = kept.current?.person === person;
    try {
      const change = { name, skills: skillsIn(skills), sites: { [site.site]: roles }, steward: false };
      const etag = await keepMember(person, change, isThere ? kept.current?.etag : undefined);
      kept.current = { person, etag };
      isThere = true;
      if (pin !== "") await keepSecret(person, "pin", { new: pin });
      if (password !== "") await keepSecret(person, "password", { new: password });
      setAdded(
        [
          words.people.added(name),
          ...(pin === "" ? [] : [`${words.people.startPin}: ${pin}`]),
          ...(password === "" ? [] : [`${words.people.startPassword}: ${password}`]),
        ].join(" "),
      );
      kept.current = undefined;
      setTyped({ ...EMPTY, roles });
      setPin("");
      setPassword("");
      first.current?.focus();
    } catch (error) {
      setFault({ refusal: asRefusal(error), isThere });
    } finally {
      setBusy(false);
      await queries.invalidateQueries({ queryKey: ["people"] });
    }
  };
  return (
    <form
      class={isBusy ? "add stack busy" : "add stack"}
      aria-labelledby="add-title"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <h2 id="add-title">{words.people.addTitle}</h2>
      <div class="pair">
        <label class="field">
          <span>{words.people.name}</span>
          <input
            ref={first}
            value={name}
            required
            maxLength={120}
            autocomplete="off"
            onInput={({ currentTarget }) => set({ name: currentTarget.value })}
          />
        </label>
        <label class="field">
          <span>{words.people.person}</span>
          <input
            value={person}
            required
            pattern="[A-Za-z0-9][A-Za-z0-9._\-]{0,79}"
            title={words.people.personShape}
            autocomplete="off"
            autocapitalize="none"
            spellcheck={false}
            aria-describedby="person-help"
            onInput={({ currentTarget }) => set({ person: currentTarget.value })}
          />
          <small id="person-help">{words.people.personHelp}</small>
        </label>
      </div>
      {sites.length > 1 && site !== undefined ? (
        <label class="field">
          <span>{words.device.site}</span>
          <select value={site.site} onChange={({ currentTarget }) => setChosen(currentTarget.value)}>
            {sites.map((one) => (
              <option key={one.site} value={one.site}>
                {one.label}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      <RoleBoxes site={site?.label ?? ""} roles={roles} change={(next) => set({ roles: next })} />
      <label class="field">
        <span>{words.people.skills}</span>
        <input
          value={skills}
          autocomplete="off"
          aria-describedby="skills-help"
          onInput={({ currentTarget }) => set({ skills: currentTarget.value })}
        />
        <small id="skills-help">{words.people.skillsHelp}</small>
      </label>
      <div class="pair">
        <StartSecret kind="pin" value={pin} change={setPin} />
        <StartSecret kind="password" value={password} change={setPassword} />
      </div>
      <p class="small">
        {words.people.startHelp} {pin === "" && password === "" ? words.people.noSecret : ""}
      </p>
      {missing === undefined ? null : (
        <p class="notice" role="alert">
          {missing}
        </p>
      )}
      {fault?.isThere === true ? <p>{words.people.addedPart(name)}</p> : null}
      <Refused fault={fault?.refusal} />
      {added === undefined ? null : (
        <p class="notice" role="status">
          {added}
        </p>
      )}
      <p class="onward">
        <button type="submit" class="main" disabled={isBusy}>
          {words.people.addNow}
        </button>
        <button type="button" onClick={close}>
          {words.sheet.close}
        </button>
      </p>
    </form>
  );
};

// Owns the change of what somebody is called, can and may do. What is typed stays, whatever the server says to it.

import { useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import { useTyped } from "../sheet/typed.ts";
import type { Refusal } from "../shop/calls.ts";
import { useMe } from "../shop/door.ts";
import { useSites } from "../shop/sites.ts";
import { useWords } from "../words/words.ts";
import { foremanAt, keepMember, type Read, skillsIn } from "./members.ts";
import { RoleBoxes } from "./role-boxes.tsx";

interface Typed {
  readonly name: string;
  readonly skills: string;
  readonly sites: Readonly<Record<string, readonly string[]>>;
  readonly steward: boolean;
}

export const ChangeForm = ({ read, mayChange }: { readonly read: Read; readonly mayChange: boolean }) => {
  const words = useWords();
  const me = useMe();
  const all = useSites();
  const queries = useQueryClient();
  const [typed, setTyped] = useTyped<Partial<Typed>>(`people/${read.member.person}`, {});
  const [fault, setFault] = useState<Refusal>();
  const [isSaved, setSaved] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const { member, etag } = read;
  if (me === undefined) return null;
  const name = typed.name ?? member.name;
  const skills = typed.skills ?? member.skills.join(", ");
  const sites = typed.sites ?? member.sites;
  const steward = typed.steward ?? member.steward;
  const led = me.steward ? all.map(({ site }) => site) : foremanAt(me);
  const labelOf = (site: string) => all.find((one) => one.site === site)?.label ?? site;
  const isElsewhere = Object.keys(member.sites).some((site) => !led.includes(site));
  const others = led.filter((site) => sites[site] === undefined);
  const isChanged =
    name !== member.name ||
    skillsIn(skills).join() !== member.skills.join() ||
    steward !== member.steward ||
    JSON.stringify(sites) !== JSON.stringify(member.sites);
  const set = (part: Partial<Typed>) => {
    setSaved(false);
    setTyped({ ...typed, ...part });
  };
  const submit = async () => {
    setBusy(true);
    setFault(undefined);
    try {
      await keepMember(member.person, { name, skills: skillsIn(skills), sites, steward }, etag);
      await queries.invalidateQueries({ predicate: ({ queryKey: [kind] }) => kind === "people" || kind === "me" });
      setTyped({});
      setSaved(true);
    } catch (error) {
      const refusal = asRefusal(error);
      setFault(refusal);
      // What is there now is read, so that it can be kept on top of that.
      if (refusal.status === 412) await queries.invalidateQueries({ queryKey: ["people", "one", member.person] });
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      class={isBusy ? "stack busy" : "stack"}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <fieldset class="plain stack" disabled={!mayChange}>
        <legend class="unseen">{words.people.toPerson(member.name)}</legend>
        <div class="pair">
          <label class="field">
            <span>{words.people.name}</span>
            <input
              value={name}
              required
              maxLength={120}
              autocomplete="off"
              onInput={({ currentTarget }) => set({ name: currentTarget.value })}
            />
          </label>
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
        </div>
        {isElsewhere && !me.steward ? <p>{words.people.noMore}</p> : null}
        {Object.entries(sites).map(([site, roles]) => (
          <RoleBoxes
            key={site}
            site={labelOf(site)}
            roles={roles}
            disabled={!led.includes(site)}
            change={(next) => set({ sites: { ...sites, [site]: next } })}
          />
        ))}
        {others.length === 0 ? null : (
          <label class="field">
            <span>{words.people.addSite}</span>
            <select
              value=""
              onChange={({ currentTarget }) => set({ sites: { ...sites, [currentTarget.value]: ["mechanic"] } })}
            >
              <option value="">{words.people.choose}</option>
              {others.map((site) => (
                <option key={site} value={site}>
                  {labelOf(site)}
                </option>
              ))}
            </select>
          </label>
        )}
        {me.steward ? (
          <label>
            <input
              type="checkbox"
              checked={steward}
              onChange={({ currentTarget }) => set({ steward: currentTarget.checked })}
            />
            <span>
              {words.people.steward}: {words.people.stewardHelp}
            </span>
          </label>
        ) : null}
      </fieldset>
      {fault?.status === 412 ? (
        <p class="notice" role="alert">
          {words.people.stale}
        </p>
      ) : (
        <Refused fault={fault} />
      )}
      {isSaved ? <p role="status">{words.people.saved}</p> : null}
      {mayChange ? (
        <p>
          <button type="submit" class="main" disabled={isBusy || !isChanged}>
            {words.people.save}
          </button>
        </p>
      ) : null}
    </form>
  );
};

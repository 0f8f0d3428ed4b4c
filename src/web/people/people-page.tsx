// Owns the page of the people: who belongs to the shop, what each may do, and somebody new.

import { useState } from "preact/hooks";
import { Link, useLocation, useSearch } from "wouter-preact";
import { useMe } from "../shop/door.ts";
import { useSites } from "../shop/sites.ts";
import { Away, DoorPage } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";
import { AddPerson } from "./add-person.tsx";
import { Ask } from "./ask.tsx";
import { governs, type Listed, useMembers } from "./members.ts";
import { OnlyWork } from "./only-work.tsx";
import { roleName } from "./role-words.ts";
import { SiteForms } from "./site-forms.tsx";

/** More than this are not found at a glance. */
const GLANCE = 12;

export const PeoplePage = () => {
  const words = useWords();
  return (
    <DoorPage title={words.people.title} here="people">
      <Ask to="/people">
        <People />
      </Ask>
    </DoorPage>
  );
};

const People = () => {
  const words = useWords();
  const me = useMe();
  const members = useMembers();
  const sites = useSites();
  const [query, setQuery] = useState("");
  const [site, setSite] = useState("");
  const [, navigate] = useLocation();
  const isAdding = new URLSearchParams(useSearch()).has("add");
  if (me === undefined) return null;
  if (members.data === undefined)
    return members.error === null ? (
      <p class="waiting busy">{words.door.moment}</p>
    ) : (
      <Away error={members.error} again={() => void members.refetch()} />
    );
  const all = members.data;
  const wanted = query.trim().toLocaleLowerCase();
  const shown = all.filter(
    (one) =>
      (site === "" || one.sites[site] !== undefined) &&
      [one.name, one.person, ...one.skills].some((text) => text.toLocaleLowerCase().includes(wanted)),
  );
  const mayChange = governs(me) && me.by !== "pin";
  return (
    <div class="people">
      <header>
        <h1>{words.people.title}</h1>
        <p>{words.people.count(all.length)}</p>
        {mayChange && !isAdding ? (
          <Link class="button main" href="/people?add">
            {words.people.add}
          </Link>
        ) : null}
      </header>
      {me.by === "pin" && governs(me) ? <OnlyWork to="/people" /> : null}
      {mayChange && isAdding ? <AddPerson close={() => navigate("/people")} /> : null}
      {all.length === 1 && mayChange && !isAdding ? <p class="notice">{words.people.onlyYou}</p> : null}
      {all.length > GLANCE || sites.length > 1 ? (
        <div class="search">
          <label class="field">
            <span>{words.people.find}</span>
            <input type="search" value={query} onInput={({ currentTarget }) => setQuery(currentTarget.value)} />
          </label>
          {sites.length > 1 ? (
            <label class="field">
              <span>{words.device.site}</span>
              <select value={site} onChange={({ currentTarget }) => setSite(currentTarget.value)}>
                <option value="">{words.people.allSites}</option>
                {sites.map((one) => (
                  <option key={one.site} value={one.site}>
                    {one.label}
                  </option>
                ))}
              </select>
            </label>
          ) : null}
        </div>
      ) : null}
      {shown.length === 0 ? <p>{words.people.noneFound}</p> : <List people={shown} mayOpen={governs(me)} />}
      {me.steward ? <SiteForms /> : null}
    </div>
  );
};

const List = ({ people, mayOpen }: { readonly people: readonly Listed[]; readonly mayOpen: boolean }) => {
  const words = useWords();
  const me = useMe();
  return (
    <table class="list">
      <thead>
        <tr>
          <th scope="col">{words.people.name}</th>
          <th scope="col">{words.people.may}</th>
          <th scope="col">{words.people.skills}</th>
          {mayOpen ? <th scope="col">{words.people.secrets}</th> : null}
        </tr>
      </thead>
      <tbody>
        {people.map((one) => (
          <tr key={one.person}>
            <th scope="row">
              {mayOpen ? (
                <Link href={`/people/${encodeURIComponent(one.person)}`}>{one.name}</Link>
              ) : one.person === me?.person ? (
                <Link href="/account">{one.name}</Link>
              ) : (
                one.name
              )}
              <small>{one.person}</small>
            </th>
            <td>
              <Roles one={one} />
            </td>
            <td>{one.skills.join(", ")}</td>
            {mayOpen ? (
              <td>
                <State one={one} />
              </td>
            ) : null}
          </tr>
        ))}
      </tbody>
    </table>
  );
};

const Roles = ({ one }: { readonly one: Listed }) => {
  const words = useWords();
  const sites = useSites();
  const given = Object.entries(one.sites);
  return (
    <>
      {given.map(([site, roles]) => (
        <span key={site} class="at">
          {sites.length > 1 || given.length > 1 ? (
            <small>{sites.find((known) => known.site === site)?.label ?? site}: </small>
          ) : null}
          {roles.map((role) => roleName(words, role)).join(", ")}
        </span>
      ))}
      {given.length === 0 ? words.people.none : null}
      {one.steward === true ? <span class="at">{words.people.steward}</span> : null}
    </>
  );
};

const State = ({ one }: { readonly one: Listed }) => {
  const words = useWords();
  const { pin = "none", password = "none" } = one;
  const isShut = one.pinShut != null || one.passwordShut != null;
  const said =
    pin === "none" && password === "none"
      ? [words.people.cannotSignIn]
      : [
          ...(pin === "none" ? [] : [words.people.pinState[pin]]),
          ...(password === "none" ? [] : [words.people.passwordState[password]]),
        ];
  return (
    <>
      {said.join(", ")}
      {isShut ? <b class="at">{words.people.shut}</b> : null}
    </>
  );
};

// Owns the two ways to pair this device: as a tablet that the site shares, or as one's own.

import { useState } from "preact/hooks";
import { Link, useLocation, useSearch } from "wouter-preact";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import { useTyped } from "../sheet/typed.ts";
import type { Refusal } from "../shop/calls.ts";
import { useDoor, useEntrance, useMe } from "../shop/door.ts";
import { type Site, useSites } from "../shop/sites.ts";
import { goalOf } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";
import { pairDevice } from "./devices.ts";

export const Pairing = () => {
  const words = useWords();
  const door = useDoor();
  const me = useMe();
  const sites = useSites();
  const search = useSearch();
  const isPaired = door.data?.device != null;
  if (me === undefined || me.by === "pin")
    return isPaired ? null : (
      <p>
        {words.device.signInToPair}{" "}
        <Link
          class="button main"
          href={`/sign-in?by=password&to=${encodeURIComponent(search === "" ? "/device" : `/device?${search}`)}`}
        >
          {words.sheet.signIn}
        </Link>
      </p>
    );
  const own = sites.filter(({ site }) => me.sites[site] !== undefined);
  const led = own.filter(({ site }) => me.sites[site]?.includes("foreman"));
  const ways = (
    <div class="pairings">
      <Way own={false} sites={led} person={me.name} />
      <Way own={true} sites={own} person={me.name} />
      <p>{words.device.why}</p>
    </div>
  );
  return isPaired ? (
    <details class="anew">
      <summary class="button">{words.device.anew}</summary>
      {ways}
    </details>
  ) : (
    ways
  );
};

const Way = ({
  own,
  sites,
  person,
}: {
  readonly own: boolean;
  /** Where it may be paired by whoever is signed in. */
  readonly sites: readonly Site[];
  readonly person: string;
}) => {
  const words = useWords();
  const entrance = useEntrance();
  const [, navigate] = useLocation();
  const goal = goalOf(new URLSearchParams(useSearch()));
  const [name, setName] = useTyped(`device/${own}`, own ? words.device.deviceNameOf(person) : words.device.sharedName);
  const [chosen, setChosen] = useTyped<string | undefined>(`device/site/${own}`, undefined);
  const [fault, setFault] = useState<Refusal>();
  const [isBusy, setBusy] = useState(false);
  const [said, setSaid] = useState<string>();
  const site = sites.find((one) => one.site === chosen) ?? sites[0];
  const id = own ? "pair-own" : "pair-shared";
  const submit = async () => {
    if (site === undefined) return;
    setBusy(true);
    setFault(undefined);
    setSaid(undefined);
    try {
      const hasKey = await pairDevice(name, site.site, own);
      await entrance.anew();
      // On a tablet of the site nobody is signed in from here on.
      if (!own) return navigate(goal === undefined ? "/sign-in" : `/sign-in?to=${encodeURIComponent(goal)}`);
      if (hasKey && goal !== undefined) return navigate(goal);
      setSaid(hasKey ? words.device.paired : words.device.keptNothing);
    } catch (error) {
      setFault(asRefusal(error));
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      class={isBusy ? "way busy" : "way"}
      aria-labelledby={id}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <h2 id={id}>{own ? words.device.own : words.device.shared}</h2>
      <p>{own ? words.device.ownLead : words.device.sharedLead}</p>
      {site === undefined ? (
        <p>
          <b>{words.device.onlyForeman}</b>
        </p>
      ) : (
        <>
          <label class="field">
            <span>{words.device.deviceName}</span>
            <input
              value={name}
              required
              maxLength={120}
              autocomplete="off"
              onInput={({ currentTarget }) => setName(currentTarget.value)}
            />
          </label>
          {sites.length > 1 ? (
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
          <Refused fault={fault} />
          {said === undefined ? null : <p role="status">{said}</p>}
          <button type="submit" disabled={isBusy}>
            {own ? words.device.pairOwn : words.device.pairShared}
          </button>
        </>
      )}
    </form>
  );
};

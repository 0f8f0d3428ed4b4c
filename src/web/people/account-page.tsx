// Owns the page of one's own account: what one may do, PIN, password, passkeys, where one is signed in.

import { useState } from "preact/hooks";
import { useLocation } from "wouter-preact";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import { call, type Refusal } from "../shop/calls.ts";
import { useEntrance, useMe, useShared } from "../shop/door.ts";
import { useSites } from "../shop/sites.ts";
import { DoorPage } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";
import { Ask } from "./ask.tsx";
import { OwnSecret } from "./own-secret.tsx";
import { Passkeys } from "./passkeys.tsx";
import { roleName } from "./role-words.ts";
import { SessionList } from "./session-list.tsx";
import { Tries } from "./tries.tsx";

export const AccountPage = () => {
  const words = useWords();
  return (
    <DoorPage title={words.account.title} here="account">
      <Ask to="/account">
        <Account />
      </Ask>
    </DoorPage>
  );
};

const Account = () => {
  const words = useWords();
  const me = useMe();
  const isShared = useShared();
  const sites = useSites();
  if (me === undefined) return null;
  const labelOf = (site: string) => sites.find((one) => one.site === site)?.label ?? site;
  return (
    <div class="people person">
      <header>
        <h1>{me.name}</h1>
        <p>{me.person}</p>
      </header>
      <ul>
        {Object.entries(me.sites).map(([site, roles]) => (
          <li key={site}>
            {words.account.youMay(labelOf(site))}: {roles.map((role) => roleName(words, role)).join(", ")}
          </li>
        ))}
        {me.steward ? (
          <li>
            {words.people.steward}: {words.people.stewardHelp}
          </li>
        ) : null}
      </ul>
      <section aria-labelledby="secrets">
        <h2 id="secrets">{words.people.secrets}</h2>
        <div class="pair">
          <OwnSecret person={me.person} kind="pin" byPin={isShared} />
          {me.by === "pin" ? null : <OwnSecret person={me.person} kind="password" byPin={false} />}
        </div>
      </section>
      <Passkeys mayChange={me.by !== "pin"} />
      <SessionList />
      <Everywhere />
      <Tries person={me.person} />
    </div>
  );
};

const Everywhere = () => {
  const words = useWords();
  const entrance = useEntrance();
  const [, navigate] = useLocation();
  const [fault, setFault] = useState<Refusal>();
  const leave = async () => {
    setFault(undefined);
    try {
      await call("POST", "/sign-out-everywhere");
      await entrance.anew();
      navigate("/sign-in");
    } catch (error) {
      setFault(asRefusal(error));
    }
  };
  return (
    <div class="stack">
      <p>
        <button type="button" onClick={() => void leave()}>
          {words.account.everywhere}
        </button>{" "}
        {words.account.everywhereHelp}
      </p>
      <Refused fault={fault} />
    </div>
  );
};

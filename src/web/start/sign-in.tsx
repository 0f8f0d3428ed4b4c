// Owns the way in: the first set-up of a shop, the names at a tablet of the site, a password or passkey anywhere.

import { Link, useLocation, useSearch } from "wouter-preact";
import { unreached } from "../shop/calls.ts";
import { useDoor, useShared } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { ByPassword } from "./by-password.tsx";
import { Away, DoorPage, goalOf } from "./door-page.tsx";
import { Names } from "./names.tsx";
import { SetUp } from "./set-up.tsx";

export const SignIn = () => {
  const words = useWords();
  const door = useDoor();
  const isShared = useShared();
  const [, navigate] = useLocation();
  const search = new URLSearchParams(useSearch());
  const given = goalOf(search);
  // Who takes up a tablet of the site has come to work.
  const goal = given ?? (isShared ? "/hand" : "/");
  const isSetUp = door.data?.setup === true;
  // Nobody who goes back afterwards is asked for a PIN again.
  const done = () => navigate(goal, { replace: true });
  const wayTo = (more: Readonly<Record<string, string>>): string => {
    const way = new URLSearchParams({ ...(given === undefined ? {} : { to: given }), ...more });
    return way.size === 0 ? "/sign-in" : `/sign-in?${way}`;
  };
  return (
    <DoorPage title={isSetUp ? words.start.setUp : words.sheet.signIn} isEntrance>
      {door.data === undefined ? (
        door.isFetched ? (
          <Away error={door.error ?? unreached(undefined)} again={() => void door.refetch()} />
        ) : (
          <p class="waiting busy">{words.door.moment}</p>
        )
      ) : isSetUp ? (
        <SetUp done={done} />
      ) : isShared && search.get("by") !== "password" ? (
        <Names who={search.get("who") ?? undefined} wayTo={wayTo} done={done} />
      ) : (
        <ByPassword done={done}>
          {isShared ? (
            <Link class="button" href={wayTo({})}>
              {words.door.names}
            </Link>
          ) : null}
          <Link href="/">{words.start.withoutSigningIn}</Link>
        </ByPassword>
      )}
    </DoorPage>
  );
};

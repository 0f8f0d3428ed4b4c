// Owns the names at a tablet of the site: large, one for each of its people; of many the initials come first.

import { useQuery } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { call } from "../shop/calls.ts";
import { useDoor } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { Away } from "./door-page.tsx";
import { PinOf } from "./pin.tsx";

interface Named {
  readonly person: string;
  readonly name: string;
}

/** More than this are not found at a glance. */
const GLANCE = 20;

/** Who may sign in at this tablet, by name. */
const useNames = (site: string) =>
  useQuery({
    queryKey: ["names", site],
    queryFn: async () => {
      const found: Named[] = [];
      let after: string | undefined;
      do {
        const behind = after === undefined ? "" : `&after=${encodeURIComponent(after)}`;
        const { body } = await call<{ readonly people: readonly Named[]; readonly next?: string }>(
          "GET",
          `/sites/${encodeURIComponent(site)}/people?limit=200${behind}`,
        );
        found.push(...body.people);
        after = body.next;
      } while (after !== undefined);
      return found.sort((a, b) => a.name.localeCompare(b.name));
    },
    staleTime: 10_000,
  });

const initialOf = ({ name }: Named): string =>
  name
    .normalize("NFD")
    .replace(/[^\p{L}\p{N}]/gu, "")
    .slice(0, 1)
    .toLocaleUpperCase();

export const Names = ({
  who,
  wayTo,
  done,
}: {
  /** Whose PIN is asked for, by the address. */
  readonly who: string | undefined;
  readonly wayTo: (more: Readonly<Record<string, string>>) => string;
  readonly done: () => void;
}) => {
  const words = useWords();
  const { device } = useDoor().data ?? {};
  const names = useNames(device?.site ?? "");
  const [initial, setInitial] = useState<string>();
  if (device == null) return null;
  if (names.data === undefined)
    return names.error === null ? (
      <p class="waiting busy">{words.door.moment}</p>
    ) : (
      <Away error={names.error} again={() => void names.refetch()} />
    );
  const chosen = names.data.find(({ person }) => person === who);
  if (chosen !== undefined)
    return <PinOf key={chosen.person} person={chosen.person} name={chosen.name} back={wayTo({})} done={done} />;
  const initials = [...new Set(names.data.map(initialOf))].sort((a, b) => a.localeCompare(b));
  const hasInitials = names.data.length > GLANCE && initials.length > 1;
  const shown = names.data.filter((one) => initial === undefined || initialOf(one) === initial);
  return (
    <section class="door names-page" aria-labelledby="who">
      <header>
        <p class="place">
          {device.label}, {device.name}
        </p>
        <h1 id="who">{words.door.who}</h1>
        <p>{words.door.whoLead}</p>
      </header>
      {names.data.length === 0 ? (
        <p class="notice">
          <b>{words.door.nobody}</b> {words.door.nobodyMend}
        </p>
      ) : null}
      {hasInitials ? (
        <fieldset class="initials">
          <legend class="unseen">{words.door.initials}</legend>
          <button type="button" aria-pressed={initial === undefined} onClick={() => setInitial(undefined)}>
            {words.door.all}
          </button>
          {initials.map((one) => (
            <button key={one} type="button" aria-pressed={initial === one} onClick={() => setInitial(one)}>
              {one}
            </button>
          ))}
        </fieldset>
      ) : null}
      <ul class="names">
        {shown.map(({ person, name }) => (
          <li key={person}>
            <Link class="button" href={wayTo({ who: person })}>
              {name}
            </Link>
          </li>
        ))}
      </ul>
      <p class="onward">
        <Link class="button" href={wayTo({ by: "password" })}>
          {words.door.byPassword}
        </Link>
        <Link class="button" href="/device">
          {words.door.device}
        </Link>
      </p>
    </section>
  );
};

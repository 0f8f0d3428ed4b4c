// Owns what was tried and done at the door about one person: shown when it is asked for, the latest first.

import { useInfiniteQuery } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { useFigures } from "../sheet/figures.ts";
import { call } from "../shop/calls.ts";
import { Away } from "../start/door-page.tsx";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";

interface Try {
  readonly id: string;
  readonly at: number;
  readonly how: string;
  readonly outcome: string;
  readonly by: string | null;
  readonly address: string;
}

interface Page {
  readonly signIns: readonly Try[];
  readonly next?: string;
}

/** A word that this page does not know yet stays as it came. */
const said = (known: Readonly<Record<string, string>>, word: string): string => known[word] ?? word;

export const Tries = ({ person }: { readonly person: string }) => {
  const words = useWords();
  const [isOpen, setOpen] = useState(false);
  return (
    <details onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{words.people.tries}</summary>
      {isOpen ? <List person={person} words={words.people} /> : null}
    </details>
  );
};

const List = ({ person, words: of }: { readonly person: string; readonly words: Words["people"] }) => {
  const words = useWords();
  const figures = useFigures();
  const tries = useInfiniteQuery({
    queryKey: ["sign-ins", person],
    queryFn: async ({ pageParam }) =>
      (
        await call<Page>(
          "GET",
          `/sign-ins?limit=20&person=${encodeURIComponent(person)}${pageParam === "" ? "" : `&after=${encodeURIComponent(pageParam)}`}`,
        )
      ).body,
    initialPageParam: "",
    getNextPageParam: ({ next }) => next,
    staleTime: 0,
  });
  if (tries.data === undefined)
    return tries.error === null ? (
      <p class="busy">{words.door.moment}</p>
    ) : (
      <Away error={tries.error} again={() => void tries.refetch()} />
    );
  const all = tries.data.pages.flatMap(({ signIns }) => signIns);
  return (
    <>
      <p class="small">{all.length === 0 ? of.noTries : of.triesHelp}</p>
      <ul class="log">
        {all.map(({ id, at, how, outcome, by, address }) => (
          <li key={id}>
            <span>
              {said(of.how, how)}: {said(of.outcome, outcome)}
              {by === null ? "" : ` ${of.by(by)}`}
              <small>
                {figures.moment(at)}, {address}
              </small>
            </span>
          </li>
        ))}
      </ul>
      {tries.hasNextPage ? (
        <button type="button" onClick={() => void tries.fetchNextPage()}>
          {of.more}
        </button>
      ) : null}
    </>
  );
};

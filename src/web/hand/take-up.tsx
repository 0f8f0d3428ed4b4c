// Owns the page on which another person takes up a tablet of the site that is without the line: his name, and his PIN twice, for nobody can look at it here.

import { useState } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import type { BriefPerson } from "../../ledger/index.ts";
import { takeUp } from "../device/taking-up.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { PinPad } from "./pin-pad.tsx";
import { useWork } from "./work.tsx";

export const TakeUp = () => {
  const words = useWords();
  const { book, line, me, paired, tell } = useWork();
  const [, navigate] = useLocation();
  const [person, setPerson] = useState<BriefPerson>();
  const [first, setFirst] = useState<string>();
  const [differed, setDiffered] = useState(false);
  const next = handPath(book.run, "next");
  const typed = async (pin: string) => {
    if (person === undefined) return;
    if (first === undefined || first !== pin) {
      setDiffered(first !== undefined);
      setFirst(first === undefined ? pin : undefined);
      return;
    }
    const lack = await takeUp(person, pin, book.kept.sealingKey);
    if (lack === undefined) navigate(next, { replace: true });
    else tell({ lack }, "");
  };
  if (paired?.own !== false) return <p class="notice">{words.hand.ownStays}</p>;
  if (line.is !== "away")
    return (
      <p>
        <Link class="button main" href={`/sign-in?to=${encodeURIComponent(next)}`}>
          {words.sheet.signIn}
        </Link>
      </p>
    );
  return (
    <div class="confirm take-up">
      <h1>{words.hand.takeUp}</h1>
      <p class="notice">{words.hand.takeUpHow}</p>
      {person === undefined ? (
        <ul class="targets">
          {book.brief.people
            .filter(({ id, roles }) => id !== me?.id && roles.some((role) => role !== "reader"))
            .map((one) => (
              <li key={one.id}>
                <button type="button" onClick={() => setPerson(one)}>
                  {one.label}
                </button>
              </li>
            ))}
        </ul>
      ) : (
        <>
          {differed ? (
            <p class="notice" role="alert">
              {words.door.notTheSame}
            </p>
          ) : null}
          <PinPad
            key={`${person.id} ${first === undefined}`}
            label={first === undefined ? words.hand.pinOf(person.label) : words.hand.pinTwice(person.label)}
            onPin={(pin) => void typed(pin)}
            onCancel={() => {
              setPerson(undefined);
              setFirst(undefined);
              setDiffered(false);
            }}
          />
        </>
      )}
    </div>
  );
};

// Owns what a foreman does about somebody's PIN and password: how they stand, a new start secret, opening what wrong tries have shut.

import { useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { useFigures } from "../sheet/figures.ts";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useWords } from "../words/words.ts";
import { keepSecret, type Member, type Secret, unlock } from "./members.ts";
import { StartSecret } from "./start-secret.tsx";

/** Milliseconds: what is shut for longer a foreman alone opens. */
const FOR_GOOD = 365 * 86_400_000;

export const ResetSecrets = ({ member }: { readonly member: Member }) => {
  const words = useWords();
  const queries = useQueryClient();
  const [fault, setFault] = useState<Refusal>();
  const [isOpen, setOpen] = useState(false);
  const open = async () => {
    setFault(undefined);
    try {
      await unlock(member.person);
      setOpen(true);
      await queries.invalidateQueries({ queryKey: ["people"] });
    } catch (error) {
      setFault(asRefusal(error));
    }
  };
  const isShut = member.pinShut !== null || member.passwordShut !== null;
  return (
    <section aria-labelledby="secrets">
      <h2 id="secrets">{words.people.secrets}</h2>
      <Standing member={member} />
      {isShut ? (
        <p>
          <button type="button" class="main" onClick={() => void open()}>
            {words.people.unlock}
          </button>
        </p>
      ) : null}
      {isOpen && !isShut ? <p role="status">{words.people.unlocked}</p> : null}
      <Refused fault={fault} />
      <p class="small">
        {words.people.resetHelp} {words.people.startHelp}
      </p>
      <div class="pair">
        <Give kind="pin" person={member.person} />
        <Give kind="password" person={member.person} />
      </div>
    </section>
  );
};

const Standing = ({ member }: { readonly member: Member }) => {
  const words = useWords();
  const figures = useFigures();
  const { pin, password, pinShut, passwordShut } = member;
  const said = [
    words.people.pinState[pin],
    words.people.passwordState[password],
    ...(pinShut === null
      ? []
      : [
          pinShut - Date.now() > FOR_GOOD ? words.people.pinShutForGood : words.people.pinShut(figures.moment(pinShut)),
        ]),
    ...(passwordShut === null ? [] : [words.people.passwordShut(figures.moment(passwordShut))]),
  ];
  return <p>{said.join("; ")}</p>;
};

const Give = ({ kind, person }: { readonly kind: Secret; readonly person: string }) => {
  const words = useWords();
  const queries = useQueryClient();
  const [value, setValue] = useState("");
  const [given, setGiven] = useState<string>();
  const [fault, setFault] = useState<Refusal>();
  const [isBusy, setBusy] = useState(false);
  const submit = async () => {
    setBusy(true);
    setFault(undefined);
    setGiven(undefined);
    try {
      await keepSecret(person, kind, { new: value });
      setGiven(value);
      setValue("");
      await queries.invalidateQueries({ predicate: ({ queryKey: [of] }) => of === "people" || of === "sessions" });
    } catch (error) {
      setFault(asRefusal(error));
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
      <StartSecret kind={kind} value={value} change={setValue} />
      <Refused fault={fault} />
      {given === undefined ? null : (
        <p class="notice" role="status">
          {words.people.given(given)}
        </p>
      )}
      <p>
        <button type="submit" disabled={isBusy || value === ""}>
          {kind === "pin" ? words.people.givePin : words.people.givePassword}
        </button>
      </p>
    </form>
  );
};

// Owns the approval of a lift: by whoever may give it, on the plan in force, with the one who signals; and going on without the store's word.

import { type Body, Names } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { useOpened, useTyped } from "./half-done.ts";
import { Confirm, type Confirmed } from "./second.tsx";
import { useWork } from "./work.tsx";

export const Approval = ({ lift }: { readonly lift: string }) => {
  const words = useWords();
  const { book, me, enter } = useWork();
  const [signaller, setSignaller] = useTyped(`signaller ${lift}`, "");
  const asked = useOpened<Confirmed>("approve");
  const { ledger, brief } = book;
  const plan = ledger.planInForce();
  const approvers = brief.people.filter(({ roles }) => roles.includes("lift approver"));
  const given = ledger
    .list("gates", "approval")
    .findLast(
      ({ author, body }) =>
        body.gate === "lift" && body.lift === lift && body.plan === plan && approvers.some(({ id }) => id === author),
    );
  const names = new Names(brief);
  if (given !== undefined)
    return given.body.signaller === undefined ? null : (
      <p>
        <b>{words.gates.signallerIs(names.person(given.body.signaller))}</b>
      </p>
    );
  if (me === undefined) return null;
  const body: Body = {
    kind: "approval",
    gate: "lift",
    lift,
    plan,
    ...(signaller === "" ? {} : { signaller }),
  };
  const said = asked.value?.body;
  if (said?.kind === "approval" && said.lift === lift && said.plan === plan)
    return <Confirm asked={asked} body={said} able={approvers} />;
  const isMine = me.roles.includes("lift approver");
  return (
    <div class="approval">
      <label class="field">
        <span>{words.gates.signaller}</span>
        <select value={signaller} onChange={({ currentTarget }) => setSignaller(currentTarget.value)}>
          <option value="">–</option>
          {brief.people.map(({ id, label }) => (
            <option key={id} value={id}>
              {label}
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        disabled={signaller === ""}
        onClick={() => (isMine ? void enter(body) : asked.open({ body }))}
      >
        {words.gates.approve}
        {isMine ? null : <small>{words.gates.who(approvers.map(({ label }) => label))}</small>}
      </button>
    </div>
  );
};

/** Where the store cannot be asked the competent person may go on, and says why. */
export const Override = ({ lift, isWanted }: { readonly lift: string; readonly isWanted: boolean }) => {
  const words = useWords();
  const { line, me, enter } = useWork();
  const [reason, setReason] = useTyped(`override ${lift}`, "");
  if (!isWanted || line.is === "near" || me?.roles.includes("lift approver") !== true) return null;
  return (
    <form
      class="approval"
      onSubmit={(event) => {
        event.preventDefault();
        void enter({ kind: "override", lift, reason }).then((isEntered) => isEntered && setReason(""));
      }}
    >
      <label class="field">
        <span>{words.gates.overrideWhy}</span>
        <input
          required
          maxLength={400}
          value={reason}
          onInput={({ currentTarget }) => setReason(currentTarget.value)}
        />
      </label>
      <button type="submit">{words.gates.override}</button>
    </form>
  );
};

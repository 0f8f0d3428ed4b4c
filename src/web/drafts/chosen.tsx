// Owns what is chosen in a draft: what it is, in fields that are changed in place, what was assumed of it, and everything that can be done to it.

import { useEffect, useState } from "preact/hooks";
import type { At, Edit } from "../../draft/index.ts";
import { KINDS, type Vehicle } from "../../vehicle/index.ts";
import { useWords } from "../words/words.ts";
import { ACTIONS, type Action, keyName, type Situation } from "./actions.ts";
import { Pick as Picked } from "./pick.tsx";
import type { Row } from "./rows.ts";
import { Waits } from "./waits.tsx";

interface ChosenProps {
  readonly row: Row;
  readonly vehicle: Vehicle;
  readonly situation: Situation;
  readonly onAct: (name: Action["name"]) => void;
  readonly onEdit: (asked: Edit) => void;
}

export const Chosen = ({ row, vehicle, situation, onAct, onEdit }: ChosenProps) => {
  const words = useWords();
  const count = vehicle.connections
    .find(({ id }) => id === row.id)
    ?.hardware.reduce((sum, { count: each }) => sum + each, 0);
  const task = vehicle.tasks.find(({ id }) => id === row.id);
  return (
    <section class="chosen" aria-labelledby="chosen-title">
      <h2 id="chosen-title">
        <span class="unseen">{words.drafts.chosen}: </span>
        {row.label}
      </h2>
      {row.assumed.length === 0 ? null : (
        <ul class="assumed">
          {row.assumed.map((one) => (
            <li key={one}>
              {words.drafts.assumes}: {one}
            </li>
          ))}
        </ul>
      )}
      <p class="acts">
        {ACTIONS.filter((action) => action.ofChosen && action.can(situation)).map((action) => (
          <ActButton key={action.name} action={action} onAct={onAct} isMain={action.name === "accept"} />
        ))}
      </p>
      <div class="fields">
        <Typed
          label={words.drafts.label}
          value={row.label}
          onTyped={(label) => onEdit({ is: "change", id: row.id, label })}
        />
        {row.is !== "connection" ? null : (
          <>
            <label class="field">
              <span>{words.drafts.kind}</span>
              <select
                value={row.kind}
                onChange={({ currentTarget: { value } }) => {
                  const kind = KINDS.find((one) => one === value);
                  if (kind !== undefined) onEdit({ is: "change", id: row.id, kind });
                }}
              >
                {KINDS.map((kind) => (
                  <option key={kind} value={kind}>
                    {words.kinds[kind]}
                  </option>
                ))}
              </select>
            </label>
            <Typed
              label={words.drafts.count}
              value={count === undefined || count === 0 ? "1" : String(count)}
              as="count"
              onTyped={(typed) => onEdit({ is: "change", id: row.id, count: Number(typed) })}
            />
            <Ends row={row} vehicle={vehicle} onEdit={onEdit} />
          </>
        )}
        {task === undefined ? null : (
          <>
            <Typed
              label={words.drafts.task.minutes}
              value={String(task.time)}
              as="minutes"
              onTyped={(typed) => onEdit({ is: "change", id: row.id, minutes: Number(typed.replace(",", ".")) })}
            />
            <Typed
              label={words.drafts.task.people}
              value={String(task.people)}
              as="count"
              onTyped={(typed) => onEdit({ is: "change", id: row.id, people: Number(typed) })}
            />
          </>
        )}
        {row.is === "part" ? null : (
          <label class="field">
            <span>{words.drafts.position}</span>
            <select
              value={row.at}
              onChange={({ currentTarget: { value } }) =>
                value === "+" ? onAct("move") : onEdit({ is: "move", id: row.id, to: { id: value } })
              }
            >
              {row.at === "" ? <option value="">{words.drafts.noPosition}</option> : null}
              {vehicle.positions.map(({ id, label }) => (
                <option key={id} value={id}>
                  {label}
                </option>
              ))}
              <option value="+">{words.drafts.another}</option>
            </select>
          </label>
        )}
      </div>
      {row.is === "part" ? null : <Waits row={row} vehicle={vehicle} onEdit={onEdit} />}
    </section>
  );
};

export const ActButton = ({
  action: { name, keys },
  onAct,
  isMain = false,
  disabled = false,
}: {
  readonly action: Action;
  readonly onAct: (name: Action["name"]) => void;
  readonly isMain?: boolean;
  readonly disabled?: boolean;
}) => {
  const words = useWords();
  return (
    <button
      type="button"
      {...(isMain ? { class: "main" } : {})}
      disabled={disabled}
      aria-keyshortcuts={keys[0]}
      onClick={() => onAct(name)}
    >
      {words.drafts.actions[name]}{" "}
      <span class="key" aria-hidden="true">
        {keyName(keys[0] ?? "")}
      </span>
    </button>
  );
};

const FIGURES = {
  count: { inputMode: "numeric", pattern: "[1-9][0-9]*", class: "count" },
  minutes: { inputMode: "decimal", pattern: "[0-9]+([.,][0-9]+)?", class: "count" },
} as const;

/** A text that is taken when one leaves the field or presses Enter. */
export const Typed = ({
  label,
  value,
  as,
  onTyped,
}: {
  readonly label: string;
  readonly value: string;
  readonly as?: keyof typeof FIGURES;
  readonly onTyped: (text: string) => void;
}) => {
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);
  const take = () => {
    if (text.trim() !== value) onTyped(text.trim());
  };
  return (
    <label class="field">
      <span>{label}</span>
      <input
        value={text}
        {...(as === undefined ? {} : FIGURES[as])}
        onInput={({ currentTarget }) => setText(currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === "Enter") event.currentTarget.blur();
          if (event.key === "Escape") {
            setText(value);
            event.currentTarget.blur();
          }
        }}
        onBlur={take}
      />
    </label>
  );
};

/** The two parts that it joins. */
const Ends = ({ row, vehicle, onEdit }: Pick<ChosenProps, "row" | "vehicle" | "onEdit">) => {
  const words = useWords();
  const [naming, setNaming] = useState<number>();
  if (row.joins.length !== 2) return null;
  const put = (end: number, given: At) => {
    const other: At = { id: row.joins[1 - end] ?? "" };
    setNaming(undefined);
    onEdit({ is: "change", id: row.id, joins: end === 0 ? [given, other] : [other, given] });
  };
  return (
    <>
      {row.joins.map((part, end) => (
        <label key={`${end} ${part}`} class="field">
          <span>{end === 0 ? words.drafts.from : words.drafts.to}</span>
          <select
            value={part}
            onChange={({ currentTarget: { value } }) => (value === "+" ? setNaming(end) : put(end, { id: value }))}
          >
            {vehicle.parts.map(({ id, label }) => (
              <option key={id} value={id} disabled={id === row.joins[1 - end]}>
                {label}
              </option>
            ))}
            <option value="+">{words.drafts.another}</option>
          </select>
        </label>
      ))}
      {naming === undefined ? null : (
        <Picked
          title={naming === 0 ? words.drafts.from : words.drafts.to}
          given={vehicle.parts.filter(({ id }) => id !== row.joins[1 - naming])}
          onPick={(at) => put(naming, at)}
          onClose={() => setNaming(undefined)}
        />
      )}
    </>
  );
};

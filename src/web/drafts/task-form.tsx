// Owns a task by hand: what is done, then its name, place, minutes and people, each filled in as it mostly is.

import { useState } from "preact/hooks";
import { type AddedTask, type At, DOES, type Does, TASK_MINUTES } from "../../draft/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { useWords } from "../words/words.ts";
import { Pick } from "./pick.tsx";

interface TaskFormProps {
  readonly vehicle: Vehicle;
  readonly onAdd: (added: AddedTask) => void;
  readonly onLeave: () => void;
}

/** Minutes of a task of which nothing is known but that it is one. */
const USUAL = 5;

export const TaskForm = ({ vehicle, onAdd, onLeave }: TaskFormProps) => {
  const words = useWords();
  const { task } = words.drafts;
  const [does, setDoes] = useState<Does>();
  return (
    <section class="taps" aria-labelledby="add-task">
      <h2 id="add-task">
        {task.title} <span class="soft">{task.of(does === undefined ? 1 : 2)}</span>
      </h2>
      {does === undefined ? (
        <>
          <h3>{task.what}</h3>
          <ul class="choices">
            {DOES.map((one) => (
              <li key={one}>
                <button type="button" onClick={() => setDoes(one)}>
                  {task.does[one]}
                </button>
              </li>
            ))}
          </ul>
          <p class="row">
            <button type="button" class="plain" onClick={onLeave}>
              {words.drafts.cancel}
            </button>
          </p>
        </>
      ) : (
        <Particulars does={does} vehicle={vehicle} onAdd={onAdd} onBack={() => setDoes(undefined)} onLeave={onLeave} />
      )}
    </section>
  );
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The fluid that is told of and that nothing drains yet. */
const undrained = ({ connections, tasks }: Vehicle): string => {
  const drained = new Set(tasks.flatMap(({ drains }) => drains));
  return connections.flatMap(({ holds }) => holds?.fluid ?? []).find((fluid) => !drained.has(fluid)) ?? "";
};

const Particulars = ({
  does,
  vehicle,
  onAdd,
  onBack,
  onLeave,
}: TaskFormProps & { readonly does: Does; readonly onBack: () => void }) => {
  const words = useWords();
  const { task } = words.drafts;
  const asksOf = does === "drain" || does === "isolate";
  const [of, setOf] = useState(() => (does === "drain" ? undrained(vehicle) : ""));
  const [typed, setTyped] = useState<string>();
  const [at, setAt] = useState<At>();
  const [minutes, setMinutes] = useState(String(TASK_MINUTES[does] ?? USUAL));
  const [people, setPeople] = useState("1");
  const [isNaming, setNaming] = useState(false);
  const label = typed ?? capital(task.label[does].replace("{}", of));
  return (
    <form
      class="particulars"
      onSubmit={(event) => {
        event.preventDefault();
        onAdd({
          does,
          label,
          ...(at === undefined ? {} : { at }),
          minutes: Number(minutes.replace(",", ".")),
          people: Number(people),
          ...(asksOf ? { of } : {}),
          undo: task.lower,
        });
      }}
    >
      {asksOf ? (
        <label class="field">
          <span>{does === "drain" ? task.fluid : task.off}</span>
          <input required value={of} list="fluids" onInput={({ currentTarget }) => setOf(currentTarget.value)} />
        </label>
      ) : null}
      {does === "drain" ? (
        <datalist id="fluids">
          {[...new Set(vehicle.connections.flatMap(({ holds }) => holds?.fluid ?? []))].map((fluid) => (
            <option key={fluid} value={fluid} />
          ))}
        </datalist>
      ) : null}
      <label class="field">
        <span>{words.drafts.label}</span>
        <input required value={label} onInput={({ currentTarget }) => setTyped(currentTarget.value)} />
      </label>
      <div class="where">
        <label class="field">
          <span>{words.drafts.position}</span>
          <select
            value={at === undefined ? "" : "id" in at ? at.id : "new"}
            onChange={({ currentTarget: { value } }) => {
              if (value === "+") setNaming(true);
              else if (value !== "new") setAt(value === "" ? undefined : { id: value });
            }}
          >
            <option value="">{words.drafts.noPosition}</option>
            {vehicle.positions.map(({ id, label: called }) => (
              <option key={id} value={id}>
                {called}
              </option>
            ))}
            {at !== undefined && "label" in at ? <option value="new">{at.label}</option> : null}
            <option value="+">{words.drafts.another}</option>
          </select>
        </label>
        <Figure
          says={task.minutes}
          inputMode="decimal"
          pattern="[0-9]+([.,][0-9]+)?"
          value={minutes}
          onValue={setMinutes}
        />
        <Figure says={task.people} inputMode="numeric" pattern="[1-9][0-9]*" value={people} onValue={setPeople} />
      </div>
      {task.then[does] === "" ? null : <p class="small soft">{task.then[does]}</p>}
      <p class="row">
        <button type="submit" class="main">
          {words.drafts.taps.add}
        </button>
        <button type="button" class="plain" onClick={onBack}>
          {words.drafts.taps.back}
        </button>
        <button type="button" class="plain" onClick={onLeave}>
          {words.drafts.cancel}
        </button>
      </p>
      {isNaming ? (
        <Pick
          title={words.drafts.position}
          given={vehicle.positions}
          usual={words.drafts.places}
          onPick={(to) => {
            setNaming(false);
            setAt(to);
          }}
          onClose={() => setNaming(false)}
        />
      ) : null}
    </form>
  );
};

interface FigureProps {
  readonly says: string;
  readonly inputMode: "decimal" | "numeric";
  readonly pattern: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
}

const Figure = ({ says, inputMode, pattern, value, onValue }: FigureProps) => (
  <label class="field">
    <span>{says}</span>
    <input
      class="count"
      required
      inputMode={inputMode}
      pattern={pattern}
      value={value}
      onInput={({ currentTarget }) => onValue(currentTarget.value)}
    />
  </label>
);

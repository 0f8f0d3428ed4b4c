// Owns the overview of a vehicle: the model as what it is, parts and what ties them, arranged in one of four ways.

import { useState } from "preact/hooks";
import type { Connection, Vehicle } from "../../vehicle/index.ts";
import type { ReadSaid } from "../engine/asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { ARRANGEMENTS, type Arrangement, byPart, byPosition, isFound, labelsOf, sayNeed } from "./arranged.ts";
import type { Goal, Look } from "./goal.ts";
import { type Named, TieTable } from "./tie-table.tsx";
import { ToLine } from "./to-line.tsx";

interface OverviewProps {
  readonly vehicle: Vehicle;
  readonly places: ReadSaid["places"];
  readonly given: URLSearchParams;
  readonly look: Look["look"];
  readonly onGo: (goal: Goal) => void;
}

/** Groups that are shown before somebody asks for more. */
const GROUPS = 60;

export const Overview = ({ vehicle, places, given, look, onGo }: OverviewProps) => {
  const words = useWords();
  const asked = given.get("by") as Arrangement | null;
  const by = asked !== null && ARRANGEMENTS.includes(asked) ? asked : "part";
  const query = given.get("find") ?? "";
  const labels = labelsOf(vehicle);
  const named: Named = {
    label: (id) => labels.get(id) ?? id,
    line: (id, label) => <ToLine label={label} place={places[id]} onGo={onGo} />,
  };
  const kindOf = ({ kind }: Connection) => words.kinds[kind];
  const shown = { part: Parts, position: Positions, task: Tasks, job: Jobs }[by];
  const List = shown;
  return (
    <div class="overview">
      <div class="looking">
        <label class="field">
          <span>{words.vehicle.find}</span>
          <input type="search" value={query} onInput={({ currentTarget }) => look({ find: currentTarget.value })} />
        </label>
        <fieldset>
          <legend class="unseen">{words.vehicle.arrange}</legend>
          {ARRANGEMENTS.map((one) => (
            <label key={one}>
              <input type="radio" name="by" checked={one === by} onChange={() => look({ by: one })} />
              {words.vehicle.by[one]}
            </label>
          ))}
        </fieldset>
      </div>
      <List key={`${by} ${query}`} vehicle={vehicle} query={query} kindOf={kindOf} named={named} />
    </div>
  );
};

interface ListProps {
  readonly vehicle: Vehicle;
  readonly query: string;
  readonly kindOf: (tie: Connection) => string;
  readonly named: Named;
}

/** The first of many, and a button for more of them. */
const useSome = <T,>(all: readonly T[]) => {
  const words = useWords();
  const [count, setCount] = useState(GROUPS);
  const rest = all.length - count;
  return {
    some: all.slice(0, count),
    more:
      rest > 0 ? (
        <button type="button" onClick={() => setCount(count + 4 * GROUPS)}>
          {words.vehicle.more(Math.min(rest, 4 * GROUPS))}
        </button>
      ) : all.length === 0 ? (
        <p class="soft">{words.vehicle.noneFound}</p>
      ) : null,
  };
};

const Parts = ({ vehicle, query, kindOf, named }: ListProps) => {
  const words = useWords();
  const figures = useFigures();
  const { some, more } = useSome(byPart(vehicle, query, kindOf));
  return (
    <>
      {some.map(({ part, ties, isFound: own }) => (
        <section class="group" key={part.id}>
          <header>
            <h2>{part.label}</h2>
            <code>{part.id}</code>
            {named.line(part.id, part.label)}
            <p class="small soft">
              {words.vehicle.ties(ties.length)};{" "}
              {part.fixed
                ? words.vehicle.fixed
                : part.mass === undefined
                  ? words.vehicle.noMass
                  : `${figures.measure(part.mass.nominal, "mass")}${
                      part.mass.low === part.mass.high
                        ? ""
                        : ` (${words.vehicle.between(figures.measure(part.mass.low, "mass"), figures.measure(part.mass.high, "mass"))})`
                    }`}
              {part.centre === undefined
                ? null
                : `; ${words.vehicle.centre} ${words.vehicle.point(
                    figures.measure(part.centre[0], "length"),
                    figures.measure(part.centre[1], "length"),
                    figures.measure(part.centre[2], "length"),
                  )}`}
              {part.note === undefined ? null : `; ${part.note}`}
            </p>
          </header>
          <TieTable
            ties={ties}
            named={named}
            caption={part.label}
            of={part.id}
            isOpen={!part.fixed || (query !== "" && !own)}
          />
        </section>
      ))}
      {more}
    </>
  );
};

const Positions = ({ vehicle, query, kindOf, named }: ListProps) => {
  const words = useWords();
  const { some, more } = useSome(byPosition(vehicle, query, kindOf));
  return (
    <>
      {some.map(({ position, ties }) => (
        <section class="group" key={position?.id ?? ""}>
          <header>
            <h2>{position?.label ?? words.vehicle.anywhere}</h2>
            {position === undefined ? null : (
              <>
                <code>{position.id}</code>
                {named.line(position.id, position.label)}
                <p class="small soft">
                  {words.vehicle.room(position.people)}
                  {position.needs.length === 0
                    ? null
                    : `; ${words.vehicle.needs}: ${position.needs.map((need) => sayNeed(need, named.label)).join(", ")}`}
                </p>
              </>
            )}
          </header>
          <TieTable
            ties={ties}
            named={named}
            caption={position?.label ?? words.vehicle.anywhere}
            {...(position === undefined ? {} : { at: position.id })}
            isOpen
          />
        </section>
      ))}
      {more}
    </>
  );
};

const Tasks = ({ vehicle, query, named }: ListProps) => {
  const words = useWords();
  const figures = useFigures();
  const { some, more } = useSome(vehicle.tasks.filter(({ id, label }) => isFound(query, id, label)));
  return (
    <>
      {some.map((task) => (
        <section class="group" key={task.id}>
          <header>
            <h2>{task.label}</h2>
            <code>{task.id}</code>
            {named.line(task.id, task.label)}
            <p class="small soft">
              {[
                figures.minutes(task.time),
                words.vehicle.people(task.people),
                task.at === undefined ? undefined : named.label(task.at),
                task.phase === "back" ? words.vehicle.onWayBack : undefined,
                task.undo === undefined ? undefined : words.vehicle.state,
                task.needs.length === 0
                  ? undefined
                  : `${words.vehicle.needs}: ${task.needs.map((need) => sayNeed(need, named.label)).join(", ")}`,
              ]
                .filter((one) => one !== undefined)
                .join("; ")}
            </p>
          </header>
        </section>
      ))}
      {more}
    </>
  );
};

const Jobs = ({ vehicle, query, named }: ListProps) => {
  const words = useWords();
  const figures = useFigures();
  const { some, more } = useSome(vehicle.jobs.filter(({ id, label }) => isFound(query, id, label)));
  return (
    <>
      {some.map((job) => (
        <section class="group" key={job.id}>
          <header>
            <h2>{job.label}</h2>
            <code>{job.id}</code>
            {named.line(job.id, job.label)}
            <p class="small soft">
              {[
                job.needs.length === 0
                  ? undefined
                  : `${words.vehicle.needs}: ${job.needs.map((need) => sayNeed(need, named.label)).join(", ")}`,
                job.swap.length === 0 ? undefined : `${words.vehicle.swap}: ${job.swap.map(named.label).join(", ")}`,
                ...job.work.map(({ label, time, at }) =>
                  [label, figures.minutes(time), at === undefined ? "" : named.label(at)].filter(Boolean).join(", "),
                ),
              ]
                .filter((one) => one !== undefined)
                .join("; ")}
            </p>
          </header>
        </section>
      ))}
      {more}
    </>
  );
};

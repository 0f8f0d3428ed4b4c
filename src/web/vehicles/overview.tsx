// Owns the overview of a vehicle: the model as what it is, parts and what ties them, arranged in one of four ways.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Connection, Need, Part, Vehicle } from "../../vehicle/index.ts";
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

interface GroupProps {
  /** Absent: it has no place in the text. */
  readonly id?: string;
  readonly label: string;
  readonly named: Named;
  readonly says: readonly (string | undefined)[];
  readonly children?: ComponentChildren;
}

/** One thing of the file: its id and line, what is said of it, and what belongs to it. */
const Group = ({ id, label, named, says, children }: GroupProps) => {
  const said = says.filter((one) => one !== undefined).join("; ");
  return (
    <section class="group">
      <header>
        <h2>{label}</h2>
        {id === undefined ? null : (
          <>
            <code>{id}</code>
            {named.line(id, label)}
          </>
        )}
        {said === "" ? null : <p class="small soft">{said}</p>}
      </header>
      {children}
    </section>
  );
};

/** What must hold before; undefined where nothing must. */
const useNeeds = (named: Named) => {
  const words = useWords();
  return (needs: readonly Need[]): string | undefined =>
    needs.length === 0
      ? undefined
      : `${words.vehicle.needs}: ${needs.map((need) => sayNeed(need, named.label)).join(", ")}`;
};

const Parts = ({ vehicle, query, kindOf, named }: ListProps) => {
  const words = useWords();
  const figures = useFigures();
  const { some, more } = useSome(byPart(vehicle, query, kindOf));
  const massOf = ({ fixed, mass }: Part): string => {
    if (fixed) return words.vehicle.fixed;
    if (mass === undefined) return words.vehicle.noMass;
    const [low, nominal, high] = [mass.low, mass.nominal, mass.high].map((value) => figures.measure(value, "mass"));
    return mass.low === mass.high ? `${nominal}` : `${nominal} (${words.vehicle.between(low ?? "", high ?? "")})`;
  };
  const centreOf = ({ centre }: Part): string | undefined => {
    if (centre === undefined) return undefined;
    const [x, y, z] = centre;
    return `${words.vehicle.centre} ${words.vehicle.point(figures.measure(x, "length"), figures.measure(y, "length"), figures.measure(z, "length"))}`;
  };
  return (
    <>
      {some.map(({ part, ties, isFound: own }) => (
        <Group
          key={part.id}
          id={part.id}
          label={part.label}
          named={named}
          says={[words.vehicle.ties(ties.length), massOf(part), centreOf(part), part.note]}
        >
          <TieTable
            ties={ties}
            named={named}
            caption={part.label}
            of={part.id}
            isOpen={!part.fixed || (query !== "" && !own)}
          />
        </Group>
      ))}
      {more}
    </>
  );
};

const Positions = ({ vehicle, query, kindOf, named }: ListProps) => {
  const words = useWords();
  const needsOf = useNeeds(named);
  const { some, more } = useSome(byPosition(vehicle, query, kindOf));
  return (
    <>
      {some.map(({ position, ties }) => (
        <Group
          key={position?.id ?? ""}
          {...(position === undefined ? {} : { id: position.id })}
          label={position?.label ?? words.vehicle.anywhere}
          named={named}
          says={position === undefined ? [] : [words.vehicle.room(position.people), needsOf(position.needs)]}
        >
          <TieTable
            ties={ties}
            named={named}
            caption={position?.label ?? words.vehicle.anywhere}
            {...(position === undefined ? {} : { at: position.id })}
            isOpen
          />
        </Group>
      ))}
      {more}
    </>
  );
};

const Tasks = ({ vehicle, query, named }: ListProps) => {
  const words = useWords();
  const figures = useFigures();
  const needsOf = useNeeds(named);
  const { some, more } = useSome(vehicle.tasks.filter(({ id, label }) => isFound(query, id, label)));
  return (
    <>
      {some.map((task) => (
        <Group
          key={task.id}
          id={task.id}
          label={task.label}
          named={named}
          says={[
            figures.minutes(task.time),
            words.vehicle.people(task.people),
            task.at === undefined ? undefined : named.label(task.at),
            task.phase === "back" ? words.vehicle.onWayBack : undefined,
            task.undo === undefined ? undefined : words.vehicle.state,
            needsOf(task.needs),
          ]}
        />
      ))}
      {more}
    </>
  );
};

const Jobs = ({ vehicle, query, named }: ListProps) => {
  const words = useWords();
  const figures = useFigures();
  const needsOf = useNeeds(named);
  const { some, more } = useSome(vehicle.jobs.filter(({ id, label }) => isFound(query, id, label)));
  return (
    <>
      {some.map((job) => (
        <Group
          key={job.id}
          id={job.id}
          label={job.label}
          named={named}
          says={[
            needsOf(job.needs),
            job.swap.length === 0 ? undefined : `${words.vehicle.swap}: ${job.swap.map(named.label).join(", ")}`,
            ...job.work.map(({ label, time, at }) =>
              [label, figures.minutes(time), at === undefined ? "" : named.label(at)].filter(Boolean).join(", "),
            ),
          ]}
        />
      ))}
      {more}
    </>
  );
};

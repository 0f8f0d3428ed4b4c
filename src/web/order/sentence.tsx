// Owns the order as a sentence: jobs, people, hoist, beginning, what stays, what goes along, what is not to be had.

import type { Vehicle } from "../../vehicle/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { Choice } from "./choice.tsx";
import { jobsOf, type OrderState } from "./order-state.ts";

interface SentenceProps {
  readonly vehicle: Vehicle;
  readonly state: OrderState;
  readonly onChange: (part: Partial<OrderState>) => void;
}

export const Sentence = ({ vehicle, state, onChange }: SentenceProps) => {
  const words = useWords();
  const figures = useFigures();
  const { sentence } = words.order;
  const loose = vehicle.parts.filter(({ fixed }) => !fixed);
  const tools = [
    ...new Set([...vehicle.shop.tools, ...vehicle.connections.flatMap(({ ways }) => ways.flatMap((way) => way.tools))]),
  ].sort();
  return (
    <p class="sentence">
      {sentence.do}{" "}
      <Choice
        title={sentence.jobs}
        none={sentence.noJob}
        options={vehicle.jobs}
        chosen={jobsOf(state, vehicle)}
        onChange={(jobs) => onChange({ jobs })}
      />{" "}
      {sentence.on(vehicle.name)}, {sentence.with} <People vehicle={vehicle} state={state} onChange={onChange} />,{" "}
      {vehicle.hoists.length === 0 ? null : (
        <>
          {sentence.by}{" "}
          <Choice
            title={sentence.hoist}
            none={sentence.anyHoist}
            single
            options={vehicle.hoists.map(({ id, label }) => ({ id, label }))}
            chosen={state.hoist === undefined ? [] : [state.hoist]}
            onChange={([hoist]) => onChange({ hoist })}
          />
          ,{" "}
        </>
      )}
      {sentence.from} <Beginning value={state.begins} onChange={(begins) => onChange({ begins })} />.
      <br />
      <span class="further">
        {sentence.keep}{" "}
        <Choice
          title={sentence.keepTitle}
          none={sentence.nothing}
          options={loose.map(({ id, label, mass }) => ({
            id,
            label,
            ...(mass === undefined ? {} : { more: figures.measure(mass.nominal, "mass") }),
          }))}
          chosen={state.keep}
          onChange={(keep) => onChange({ keep, take: state.take.filter((id) => !keep.includes(id)) })}
        />
        , {sentence.take}{" "}
        <Choice
          title={sentence.takeTitle}
          none={sentence.nothing}
          options={loose.map(({ id, label }) => ({ id, label }))}
          chosen={state.take}
          onChange={(take) => onChange({ take, keep: state.keep.filter((id) => !take.includes(id)) })}
        />
        . {sentence.without}{" "}
        <Choice
          title={sentence.withoutTitle}
          none={sentence.nothing}
          options={tools.map((id) => ({ id, label: id }))}
          chosen={state.without}
          onChange={(without) => onChange({ without })}
        />
        ; {sentence.released}{" "}
        <Choice
          title={sentence.releasedTitle}
          none={sentence.nothing}
          options={vehicle.connections.map(({ id, label }) => ({ id, label }))}
          chosen={state.released}
          onChange={(released) => onChange({ released })}
        />
        .
      </span>
    </p>
  );
};

/** A day and a time of day; the day is the browser's own, the time has 24 hours whatever the browser thinks of it. */
const Beginning = ({
  value,
  onChange,
}: {
  readonly value: string | undefined;
  readonly onChange: (begins: string | undefined) => void;
}) => {
  const { sentence } = useWords().order;
  const [day = "", time = MORNING] = value?.split("T") ?? [];
  return (
    <>
      <input
        type="date"
        class="in-sentence"
        aria-label={sentence.day}
        value={day}
        onChange={({ currentTarget }) =>
          onChange(currentTarget.value === "" ? undefined : `${currentTarget.value}T${time}`)
        }
      />
      {day === "" ? null : (
        <>
          {" "}
          <input
            type="text"
            inputMode="numeric"
            class="in-sentence time"
            aria-label={sentence.time}
            pattern="([01][0-9]|2[0-3]):[0-5][0-9]"
            value={time}
            onChange={({ currentTarget }) => {
              if (currentTarget.checkValidity()) onChange(`${day}T${currentTarget.value}`);
              else currentTarget.reportValidity();
            }}
          />
        </>
      )}
    </>
  );
};

/** When work begins where nobody said so. */
const MORNING = "07:00";

/** So many who can do anything, or people of the shop by name. */
const People = ({ vehicle, state, onChange }: SentenceProps) => {
  const { sentence } = useWords().order;
  const { people } = vehicle.shop;
  const { crew } = state;
  const counts = [1, 2, 3, 4, 5, 6].map((count) => ({ id: String(count), label: sentence.anyPeople(count) }));
  return (
    <Choice
      title={sentence.people}
      none={
        people.length === 0
          ? sentence.anybody
          : sentence.wholeShop(people.map(({ label }) => label.split(",")[0] ?? label).join(", "))
      }
      options={[...people.map(({ id, label }) => ({ id, label })), ...counts]}
      chosen={typeof crew === "number" ? [String(crew)] : (crew ?? [])}
      onChange={(chosen) => {
        const last = chosen.at(-1);
        if (last === undefined) onChange({ crew: undefined });
        else if (/^\d+$/.test(last)) onChange({ crew: Number(last) });
        else onChange({ crew: chosen.filter((id) => !/^\d+$/.test(id)) });
      }}
    />
  );
};

// Owns the schedule in words: as a table of everything in the order of time, and, where a page is narrow, person by person.

import { useWords } from "../words/words.ts";
import type { Doing, Layout } from "./layout.ts";
import type { Reading } from "./reading.ts";

interface ListProps {
  readonly layout: Layout;
  readonly reading: Reading;
  readonly open?: Doing;
  readonly onOpen: (doing: Doing) => void;
}

const What = ({ doing, reading, open, onOpen }: { readonly doing: Doing } & Omit<ListProps, "layout">) => (
  <button
    type="button"
    class="plain what"
    aria-expanded={open?.pin === doing.pin}
    data-doing={doing.pin}
    onClick={() => onOpen(doing)}
  >
    {reading.name(doing)}
  </button>
);

const States = ({ layout, reading }: Pick<ListProps, "layout" | "reading">) => {
  const words = useWords();
  if (layout.states.length === 0) return null;
  return (
    <section>
      <h2>{words.timeline.list.states}</h2>
      <ul>
        {layout.states.flatMap(({ id, label, on }) =>
          on.map(({ from, until }) => (
            <li key={`${id} ${from}`}>{words.timeline.list.on(label, reading.at(from), reading.at(until))}</li>
          )),
        )}
      </ul>
    </section>
  );
};

/** What makes it this long, run by run. */
export const Binds = ({ reading }: Pick<ListProps, "reading">) => {
  const words = useWords();
  return (
    <section class="binds" aria-labelledby="binds">
      <h2 id="binds">{words.timeline.binds}</h2>
      <ol>
        {reading.plan.chain.map((run) => (
          <li key={run.from}>
            <span class="time">{reading.span(run.from, run.until)}</span>
            <b>{reading.because(run)}</b>
            <span>{reading.run(run)}</span>
          </li>
        ))}
      </ol>
    </section>
  );
};

export const AsTable = (props: ListProps) => {
  const { layout, reading } = props;
  const words = useWords();
  const { list } = words.timeline;
  return (
    <details class="as-list">
      <summary>{list.title}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">{list.time}</th>
            <th scope="col">{list.who}</th>
            <th scope="col">{list.what}</th>
            <th scope="col">{list.where}</th>
            <th scope="col">{list.why}</th>
          </tr>
        </thead>
        <tbody>
          {layout.doings.map((doing) => (
            <tr key={`${doing.pin} ${doing.start}`} class={doing.isChained ? "chained" : ""}>
              <td class="time">{reading.span(doing.start, doing.end)}</td>
              <td>{doing.people.length === 0 ? words.timeline.alone : reading.whoAll(doing.people)}</td>
              <td>
                <What doing={doing} {...props} />
              </td>
              <td>{reading.where(doing.position)}</td>
              <td class="small">{reading.why(doing)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <States layout={layout} reading={reading} />
    </details>
  );
};

/** A list for each person, and what goes on alone; `now` marks the first that is not over. */
export const ByPerson = (props: ListProps & { readonly now?: number }) => {
  const { layout, reading, now } = props;
  const words = useWords();
  return (
    <div class="by-person">
      {reading.plan.crew.people.map(({ id, label }) => {
        const own = layout.doings.filter(({ people }) => people.includes(id));
        const away = reading.plan.away.filter(({ person }) => person === id);
        const due = now === undefined ? undefined : own.find(({ free }) => free > now);
        return (
          <details key={id} open>
            <summary>{label}</summary>
            <ol>
              {own.map((doing) => (
                <li
                  key={doing.start}
                  class={doing.isChained ? "chained" : ""}
                  aria-current={doing === due ? "time" : undefined}
                >
                  <span class="time">{reading.span(doing.start, doing.free)}</span>
                  <What doing={doing} {...props} />
                  <small>
                    {reading.where(doing.position)}
                    {doing.people.length > 1 ? `, + ${reading.whoAll(doing.people.filter((one) => one !== id))}` : ""}
                  </small>
                </li>
              ))}
              {away.map(({ from, until }) => (
                <li key={`away ${from}`}>
                  <span class="time">{reading.span(from, until)}</span>
                  <i>{words.timeline.away}</i>
                </li>
              ))}
            </ol>
          </details>
        );
      })}
      {layout.alone.length === 0 ? null : (
        <details>
          <summary>{words.timeline.alone}</summary>
          <ol>
            {layout.alone.map(({ key, doing, from, until }) => (
              <li key={key}>
                <span class="time">{reading.span(from, until)}</span>
                <span>{reading.name(doing)}</span>
              </li>
            ))}
          </ol>
        </details>
      )}
      <States layout={layout} reading={reading} />
    </div>
  );
};

// Owns a choice among many within a sentence: what is chosen stands in it, a tap opens the list with a search above.

import { useId, useState } from "preact/hooks";
import { useWords } from "../words/words.ts";

export interface Option {
  readonly id: string;
  readonly label: string;
  readonly more?: string;
}

interface ChoiceProps {
  readonly title: string;
  /** What stands in the sentence where nothing is chosen. */
  readonly none: string;
  readonly options: readonly Option[];
  readonly chosen: readonly string[];
  readonly single?: true;
  readonly onChange: (chosen: readonly string[]) => void;
}

/** A list so long gets a search. */
const LONG = 9;

export const Choice = ({ title, none, options, chosen, single, onChange }: ChoiceProps) => {
  const words = useWords();
  const id = useId();
  const [query, setQuery] = useState("");
  const text = query.toLocaleLowerCase();
  const shown = options.filter(({ id: own, label }) => `${label} ${own}`.toLocaleLowerCase().includes(text));
  const label = (one: string) => options.find((option) => option.id === one)?.label ?? one;
  const put = (own: string, isOn: boolean) =>
    onChange(single === true ? (isOn ? [own] : []) : isOn ? [...chosen, own] : chosen.filter((one) => one !== own));
  return (
    <>
      <button type="button" class="in-sentence" popovertarget={id} title={title}>
        <span class="unseen">{title}: </span>
        {chosen.length === 0 ? none : chosen.map(label).join(", ")}
      </button>
      <div id={id} popover="auto" class="choice">
        <h3>{title}</h3>
        {options.length > LONG ? (
          <input
            type="search"
            value={query}
            aria-label={words.order.search(title)}
            placeholder={words.order.search(title)}
            onInput={({ currentTarget }) => setQuery(currentTarget.value)}
          />
        ) : null}
        <ul>
          {shown.map(({ id: own, label: name, more }) => (
            <li key={own}>
              <label>
                <input
                  type={single === true ? "radio" : "checkbox"}
                  name={id}
                  checked={chosen.includes(own)}
                  onChange={({ currentTarget }) => put(own, currentTarget.checked)}
                />
                <span>
                  {name}
                  {more === undefined ? null : <small class="soft"> {more}</small>}
                </span>
              </label>
            </li>
          ))}
        </ul>
        {shown.length === 0 ? (
          <p class="soft">{options.length === 0 ? words.order.noOptions : words.order.noneFound}</p>
        ) : null}
        {chosen.length > 0 ? (
          <button type="button" class="plain" onClick={() => onChange([])}>
            {words.order.clear}
          </button>
        ) : null}
      </div>
    </>
  );
};

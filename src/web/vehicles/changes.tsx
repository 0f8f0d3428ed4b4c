// Owns what has changed between two states of a model, as it is shown: in meaning, by thing and field, and in the text, line by line.

import { useMemo, useState } from "preact/hooks";
import type { Vehicle } from "../../vehicle/index.ts";
import type { Files } from "../engine/asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { useEngine } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { labelsOf } from "./arranged.ts";
import { compareLines, type FileChange } from "./line-changes.ts";
import { type Change, compareMeaning, type FieldChange, type ThingKind } from "./meaning.ts";
import { type Saying, sayValue } from "./said-value.ts";

/** Things, and stretches of lines, that are shown before somebody asks for more. */
const FEW = 30;

interface ChangesProps {
  readonly before: Files;
  readonly after: Files;
}

export const Changes = ({ before, after }: ChangesProps) => {
  const words = useWords();
  const lines = useMemo(() => compareLines(before, after), [before, after]);
  if (lines.length === 0) return <p>{words.vehicle.version.same}</p>;
  return (
    <div class="changes stack">
      <Meaning before={before} after={after} />
      <section>
        <h3>{words.vehicle.changed.lines}</h3>
        {lines.map((file) => (
          <Lines key={file.path} file={file} isNamed={before.length > 1 || after.length > 1} />
        ))}
      </section>
    </div>
  );
};

const Meaning = ({ before, after }: ChangesProps) => {
  const words = useWords();
  const old = useEngine("read", before, {});
  const now = useEngine("read", after, {});
  const isSettled = !old.isPlaceholderData && !now.isPlaceholderData;
  const [was, is] = [old.data?.vehicle, now.data?.vehicle];
  return (
    <section>
      <h3>{words.vehicle.changed.meaning}</h3>
      {old.data === undefined || now.data === undefined || !isSettled ? (
        <p class="waiting busy">{words.sheet.reading}</p>
      ) : was === undefined || is === undefined ? (
        <p class="soft">{words.vehicle.changed.noReading}</p>
      ) : (
        <Things before={was} after={is} />
      )}
    </section>
  );
};

const Things = ({ before, after }: { readonly before: Vehicle; readonly after: Vehicle }) => {
  const words = useWords();
  const figures = useFigures();
  const [count, setCount] = useState(FEW);
  const changes = useMemo(() => compareMeaning(before, after), [before, after]);
  const saying = useMemo((): Saying => {
    const labels = new Map([...labelsOf(before), ...labelsOf(after)]);
    const { yes, no, nothing } = words.vehicle.changed;
    return { figures, yes, no, nothing, label: (id) => labels.get(id) ?? id };
  }, [before, after, figures, words]);
  if (changes.length === 0) return <p class="soft">{words.vehicle.changed.noMeaning}</p>;
  return (
    <>
      <ul class="meanings">
        {changes.slice(0, count).map((change) => (
          <Thing key={`${change.thing} ${change.id} ${change.is}`} change={change} saying={saying} />
        ))}
      </ul>
      {changes.length > count ? (
        <button type="button" onClick={() => setCount(count + 4 * FEW)}>
          {words.vehicle.changed.more(Math.min(4 * FEW, changes.length - count))}
        </button>
      ) : null}
    </>
  );
};

const MARKS = { added: "+", removed: "−", changed: "≠" } as const;

const Thing = ({ change, saying }: { readonly change: Change; readonly saying: Saying }) => {
  const words = useWords();
  const { thing, id, label, is, fields } = change;
  const said = {
    added: words.vehicle.changed.added,
    removed: words.vehicle.changed.removed,
    changed: words.vehicle.changed.was,
  };
  return (
    <li class={is}>
      <p>
        <span class="sign" aria-hidden="true">
          {MARKS[is]}
        </span>{" "}
        <b>{label}</b>{" "}
        <small class="soft">
          {[thing === "vehicle" ? words.sheet.vehicle : words.vehicle.things[thing], id, said[is]]
            .filter((one) => one !== "")
            .join(", ")}
        </small>
      </p>
      {fields.length === 0 ? null : (
        <dl>
          {fields.map(({ path, before, after }) => (
            <div key={path.join(".")}>
              <dt>{path.join(" ")}</dt>
              <dd>
                <Turned field={{ path, before, after }} thing={thing} saying={saying} />
              </dd>
            </div>
          ))}
        </dl>
      )}
    </li>
  );
};

const isList = (value: unknown): value is readonly unknown[] => Array.isArray(value);

/** What was, and what is: of two lists what is gone and what is new. */
const Turned = ({
  field,
  thing,
  saying,
}: {
  readonly field: FieldChange;
  readonly thing: ThingKind;
  readonly saying: Saying;
}) => {
  const { path, before, after } = field;
  const was = <del>{sayValue(before, path, thing, saying)}</del>;
  const is = <ins>{sayValue(after, path, thing, saying)}</ins>;
  if (isList(before) && isList(after) && (before.length === 0 || after.length === 0))
    return before.length === 0 ? <>+ {is}</> : <>− {was}</>;
  return (
    <>
      {was} → {is}
    </>
  );
};

const Lines = ({ file, isNamed }: { readonly file: FileChange; readonly isNamed: boolean }) => {
  const words = useWords();
  const [count, setCount] = useState(FEW);
  const { path, is, stretches, added, removed } = file;
  if (is === "too much") return <p class="soft">{words.vehicle.changed.tooMuch}</p>;
  const name =
    is === "added"
      ? words.vehicle.changed.addedFile(path)
      : is === "removed"
        ? words.vehicle.changed.removedFile(path)
        : isNamed
          ? path
          : "";
  return (
    <>
      <p class="small soft">
        {name === "" ? null : `${name}; `}
        {words.vehicle.changed.count(added, removed)}
      </p>
      <table class="lines">
        <caption class="unseen">{path}</caption>
        {stretches.slice(0, count).map((lines) => (
          <tbody key={`${lines[0]?.was} ${lines[0]?.now}`}>
            {lines.map((line) => (
              <tr key={`${line.was} ${line.now}`} class={line.pieces === undefined ? `${line.is} whole` : line.is}>
                <td class="number">{line.was}</td>
                <td class="number">{line.now}</td>
                <td>
                  {line.is === "same" ? (
                    " "
                  ) : (
                    <>
                      <span aria-hidden="true">{line.is === "added" ? "+" : "−"}</span>
                      <span class="unseen">
                        {line.is === "added" ? words.vehicle.changed.lineIs : words.vehicle.changed.lineWas}
                      </span>
                    </>
                  )}
                </td>
                <td>
                  <code>
                    {line.pieces === undefined
                      ? line.text
                      : line.pieces.map(({ text, isSame }, n) => (isSame ? text : <mark key={n}>{text}</mark>))}
                  </code>
                </td>
              </tr>
            ))}
          </tbody>
        ))}
      </table>
      {stretches.length > count ? (
        <button type="button" onClick={() => setCount(count + 4 * FEW)}>
          {words.vehicle.changed.more(Math.min(4 * FEW, stretches.length - count))}
        </button>
      ) : null}
    </>
  );
};

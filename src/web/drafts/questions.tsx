// Owns the open questions of a draft, those first whose answers change the plan most, answered in place.

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { type AtStake, type Question, questionsIn, type Ranked, ranked, UNITS } from "../../draft/index.ts";
import type { ReadSaid } from "../engine/asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { useEngine, useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { useCalm } from "./calm.ts";
import type { Desk } from "./desk.ts";

/** Questions that are shown at once. */
const SHOWN = 6;
/** What a question is answered in. */
export const ANSWER = ".questions .answer :is(input, select, button)";

interface QuestionsProps {
  readonly text: string;
  readonly reading: ReadSaid;
  readonly onAnswer: Desk["answer"];
  readonly onChoose: (id: string) => void;
}

const NONE: ReadonlyMap<string, AtStake> = new Map();

/** The questions in their order, and whether that is still being worked out. */
const useQuestions = (text: string, { vehicle, gaps }: ReadSaid) => {
  const { files } = useModel();
  const stakes = useEngine("stakes", useCalm(), {});
  const questions = useMemo(
    () =>
      vehicle === undefined ? [] : ranked(questionsIn(text, vehicle, gaps, files[0]?.path ?? ""), stakes.data ?? NONE),
    [text, vehicle, gaps, files, stakes.data],
  );
  return { questions, isWeighing: stakes.data === undefined && !stakes.isError };
};

export const Questions = ({ text, reading, onAnswer, onChoose }: QuestionsProps) => {
  const words = useWords();
  const list = useRef<HTMLOListElement>(null);
  const { questions, isWeighing } = useQuestions(text, reading);
  // Nothing moves under the fingers: while one of them is being answered they stay as they stand.
  const [held, setHeld] = useState<readonly string[]>();
  const placeOf = ({ name }: Question) => (held?.indexOf(name) ?? -1) + 1 || Number.POSITIVE_INFINITY;
  const shown = held === undefined ? questions : questions.toSorted((a, b) => placeOf(a) - placeOf(b) || 0);
  const answered = useRef<{ readonly name: string; readonly n: number }>();
  // Once the one that was answered is gone, the one that stands in its place is next.
  useEffect(() => {
    const { name, n } = answered.current ?? {};
    if (name === undefined || n === undefined || questions.some((one) => one.name === name)) return;
    answered.current = undefined;
    const places = [...(list.current?.children ?? [])];
    places[Math.min(n, places.length - 1)]?.querySelector<HTMLElement>(".answer > :first-child")?.focus();
  }, [questions]);
  return (
    <section class="questions" aria-labelledby="questions">
      <h2 id="questions">
        {words.drafts.questions} <span class="soft">{questions.length}</span>
      </h2>
      <p class="small soft">
        {questions.length === 0
          ? words.drafts.noQuestions
          : isWeighing
            ? words.drafts.weighing
            : words.drafts.questionsLead}
      </p>
      <ol
        ref={list}
        onFocusIn={() => setHeld((before) => before ?? shown.map(({ name }) => name))}
        onFocusOut={({ relatedTarget }) => {
          if (!(relatedTarget instanceof Node && list.current?.contains(relatedTarget))) setHeld(undefined);
        }}
      >
        {shown.slice(0, SHOWN).map((question, n) => (
          <One
            key={question.name}
            question={question}
            onAnswer={onAnswer}
            onAnswered={() => {
              answered.current = { name: question.name, n };
              setHeld(undefined);
            }}
            onChoose={onChoose}
          />
        ))}
      </ol>
      {questions.length > SHOWN ? (
        <p class="small soft">{words.drafts.moreQuestions(questions.length - SHOWN)}</p>
      ) : null}
    </section>
  );
};

interface OneProps {
  readonly question: Ranked;
  readonly onAnswer: QuestionsProps["onAnswer"];
  readonly onAnswered: () => void;
  readonly onChoose: QuestionsProps["onChoose"];
}

const One = ({ question, onAnswer, onAnswered, onChoose }: OneProps) => {
  const words = useWords();
  const [text, setText] = useState("");
  const [fault, setFault] = useState<string>();
  const [busy, setBusy] = useState(false);
  const { label, asks, choices } = question;
  const field = `answer-${question.name.replaceAll(" ", "-")}`;
  const give = async (answer: string) => {
    if (answer.trim() === "" || busy) return;
    setBusy(true);
    const wrong = await onAnswer(question, answer);
    setBusy(false);
    setFault(wrong === undefined ? undefined : wrong || words.drafts.notAnswer(answer));
    if (wrong === undefined) onAnswered();
  };
  const shared = {
    id: field,
    onFocus: () => onChoose(question.of),
    ...(fault === undefined ? {} : { "aria-invalid": true, "aria-describedby": `${field}-fault` }),
  };
  const isYesNo = asks === "there" || asks === "before";
  return (
    <li>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void give(text);
        }}
      >
        <label for={isYesNo ? undefined : field} id={`${field}-label`}>
          <b>{label}</b>
          <Asked question={question} />
        </label>
        <Effect stake={question.stake} />
        {isYesNo ? (
          <fieldset class="answer" aria-labelledby={`${field}-label`}>
            <button type="button" {...shared} onClick={() => void give("yes")}>
              {words.drafts.yes}
            </button>
            <button type="button" onFocus={shared.onFocus} onClick={() => void give("no")}>
              {words.drafts.no}
            </button>
          </fieldset>
        ) : choices !== undefined ? (
          <span class="answer">
            <select {...shared} value="" onChange={({ currentTarget: { value } }) => void give(value)}>
              <option value="">{words.drafts.choose}</option>
              {choices.map((one) => (
                <option key={one.value} value={one.value}>
                  {one.label}
                </option>
              ))}
            </select>
          </span>
        ) : (
          <span class="answer">
            <input
              {...shared}
              value={text}
              placeholder={UNITS[question.key] ?? ""}
              title={question.means}
              onInput={({ currentTarget }) => setText(currentTarget.value)}
              onKeyDown={(event) => {
                if (event.key === "Escape") event.currentTarget.blur();
              }}
            />
            <button type="submit" class={busy ? "busy" : ""}>
              {words.drafts.answer}
              <span class="unseen">: {label}</span>
            </button>
          </span>
        )}
        {fault === undefined ? null : (
          <small id={`${field}-fault`} role="alert">
            {fault}
          </small>
        )}
      </form>
    </li>
  );
};

/** What is asked. The reasons that a draft gives are in its own language. */
const Asked = ({ question: { asks, key, now = "", on, means } }: { readonly question: Question }) => {
  const words = useWords();
  const { asks: figures, asksOther, asksTaken } = words.drafts;
  switch (asks) {
    case "figure":
      return <>{key in figures ? figures[key as keyof typeof figures] : asksOther(key)}</>;
    case "minutes":
      return <>{asksTaken.minutes(now)}</>;
    case "position":
      return <>{asksTaken.position}</>;
    case "joins":
      return <>{asksTaken.joins(now)}</>;
    case "there":
    case "before":
      return (
        <>
          {asks === "there" ? asksTaken.there : asksTaken.before(on?.label ?? "")}
          <small class="soft" lang="en">
            {means}
          </small>
        </>
      );
  }
};

/** What the answer can change. */
const Effect = ({ stake }: { readonly stake: AtStake | undefined }) => {
  const words = useWords();
  const figures = useFigures();
  if (stake === undefined) return null;
  const { from, to, decidesPlan, decidesStep, unchecked } = stake;
  const say = words.drafts.stake;
  const minutes = (value: number) => figures.number(value, value < 10 ? 1 : 0);
  const says = [
    ...(decidesPlan ? [say.plan] : []),
    ...(decidesStep ? [say.step] : []),
    ...(Number.isFinite(to)
      ? to > 0
        ? [say.upTo(minutes(to))]
        : []
      : [from > 0 ? say.atLeast(minutes(from)) : say.unfound]),
    ...(unchecked === undefined ? [] : [say[unchecked]]),
  ];
  return <small class="soft effect">{says.length === 0 ? say.nothing : says.join("; ")}</small>;
};

// Owns the open questions of a draft, in the order that `check` gives, answered in place.

import { useRef, useState } from "preact/hooks";
import { type Question, questionsOf } from "../../draft/index.ts";
import type { ReadSaid } from "../engine/asked.ts";
import { useWords } from "../words/words.ts";
import type { Desk } from "./desk.ts";
import { UNITS } from "./typed-figure.ts";

/** Questions that are shown at once. */
const SHOWN = 6;

interface QuestionsProps {
  readonly reading: ReadSaid;
  readonly onAnswer: Desk["answer"];
  readonly onChoose: (id: string) => void;
}

export const Questions = ({ reading, onAnswer, onChoose }: QuestionsProps) => {
  const words = useWords();
  const list = useRef<HTMLOListElement>(null);
  const questions = reading.vehicle === undefined ? [] : questionsOf(reading.vehicle, reading.gaps);
  const answered = (n: number) => {
    // The one that stands in its place by then, once it has been read.
    setTimeout(() => {
      const fields = list.current?.querySelectorAll("input");
      fields?.[Math.min(n, fields.length - 1)]?.focus();
    }, 150);
  };
  return (
    <section class="questions" aria-labelledby="questions">
      <h2 id="questions">
        {words.drafts.questions} <span class="soft">{questions.length}</span>
      </h2>
      <p class="small soft">{questions.length === 0 ? words.drafts.noQuestions : words.drafts.questionsLead}</p>
      <ol ref={list}>
        {questions.slice(0, SHOWN).map((question, n) => (
          <One
            key={`${question.of} ${question.key}`}
            question={question}
            label={labelIn(reading, question.of)}
            onAnswer={onAnswer}
            onAnswered={() => answered(n)}
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

const labelIn = ({ vehicle }: ReadSaid, id: string): string =>
  [vehicle?.parts, vehicle?.connections, vehicle?.tasks, vehicle?.positions]
    .flatMap((list): readonly { readonly id: string; readonly label: string }[] => list ?? [])
    .find((one) => one.id === id)?.label ?? id;

const One = ({
  question,
  label,
  onAnswer,
  onAnswered,
  onChoose,
}: {
  readonly question: Question;
  readonly label: string;
  readonly onAnswer: QuestionsProps["onAnswer"];
  readonly onAnswered: () => void;
  readonly onChoose: QuestionsProps["onChoose"];
}) => {
  const words = useWords();
  const [text, setText] = useState("");
  const [fault, setFault] = useState<string>();
  const [busy, setBusy] = useState(false);
  const { asks, asksOther } = words.drafts;
  const asked = question.key in asks ? asks[question.key as keyof typeof asks] : asksOther(question.key);
  const unit = UNITS[question.key];
  const field = `answer-${question.of}-${question.key}`;
  return (
    <li>
      <form
        onSubmit={async (event) => {
          event.preventDefault();
          if (text.trim() === "" || busy) return;
          setBusy(true);
          const wrong = await onAnswer(question, text);
          setBusy(false);
          setFault(wrong === undefined ? undefined : wrong || words.drafts.notAnswer(text));
          if (wrong === undefined) onAnswered();
        }}
      >
        <label for={field}>
          <b>{label}</b>
          {asked}
        </label>
        <span class="answer">
          <input
            id={field}
            value={text}
            placeholder={unit ?? ""}
            title={question.means}
            onInput={({ currentTarget }) => setText(currentTarget.value)}
            onFocus={() => onChoose(question.of)}
            onKeyDown={(event) => {
              if (event.key === "Escape") event.currentTarget.blur();
            }}
            {...(fault === undefined ? {} : { "aria-invalid": true, "aria-describedby": `${field}-fault` })}
          />
          <button type="submit" class={busy ? "busy" : ""}>
            {words.drafts.answer}
            <span class="unseen">: {label}</span>
          </button>
        </span>
        {fault === undefined ? null : (
          <small id={`${field}-fault`} role="alert">
            {fault}
          </small>
        )}
      </form>
    </li>
  );
};

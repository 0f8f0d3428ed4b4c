// Owns the page of findings: one is entered by two touches, and what is open is dealt with or handed over.

import { useLocation, useSearch } from "wouter-preact";
import { type Body, type BodyOf, Names } from "../../ledger/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { About } from "./about.tsx";
import { useTyped } from "./half-done.ts";
import { namedIn, usePending } from "./pending.ts";
import { Photos, TakePhoto } from "./photos.tsx";
import { TakeVoice, Voices } from "./voices.tsx";
import { useWork } from "./work.tsx";

type What = BodyOf<"finding">["what"];
const WHATS: readonly What[] = ["sheared", "seized", "damaged", "out of reach", "tool missing", "person gone", "other"];
/** Minutes that a thing takes longer, as people say it. */
const TAKES = [10, 20, 30, 60];

export const Found = () => {
  const words = useWords();
  const { me } = useWork();
  // What was found is in the address: back leads to the choice, and a page that is loaded anew goes on where it was.
  const search = useSearch();
  const [path, navigate] = useLocation();
  const asked = new URLSearchParams(search);
  const what = WHATS.find((one) => one === asked.get("what"));
  const at = (one: What | undefined): string => {
    const query = new URLSearchParams(search);
    if (one === undefined) query.delete("what");
    else query.set("what", one);
    return query.size === 0 ? path : `${path}?${query}`;
  };
  return (
    <div class="found">
      {me === undefined ? null : what === undefined ? (
        <>
          <h1>{words.gates.finding}</h1>
          <ul class="targets kinds-of-finding">
            {WHATS.map((one) => (
              <li key={one}>
                <button type="button" onClick={() => navigate(at(one))}>
                  {words.gates.kinds[one]}
                </button>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <Entering
          key={what}
          what={what}
          given={asked.get("about") ?? ""}
          onEnd={() => navigate(at(undefined), { replace: true })}
        />
      )}
      <OpenFindings />
    </div>
  );
};

interface Typed {
  readonly about: string;
  readonly text: string;
  /** Minutes. */
  readonly takes?: number | undefined;
  readonly tool: string;
  readonly person: string;
}

/** What it is about stands there already where one comes from a step: then the second touch enters it. */
const Entering = ({
  what,
  given,
  onEnd,
}: {
  readonly what: What;
  /** What it is about, from where one comes; "" where that is not known. */
  readonly given: string;
  readonly onEnd: () => void;
}) => {
  const words = useWords();
  const { book, enter, tell } = useWork();
  const photos = usePending("photos");
  const voices = usePending("voices");
  const empty: Typed = { about: given, text: "", tool: "", person: "" };
  const [typed, type] = useTyped(`finding ${given}`, empty);
  const { about, text, takes, tool, person } = typed;
  const { brief } = book;
  const names = new Names(brief);
  const step = brief.steps.find(({ id }) => id === about);
  const done = async () => {
    const body: Body = {
      kind: "finding",
      what,
      text: text.trim() === "" ? words.gates.kinds[what] : text.trim(),
      ...(about === "" ? {} : { about }),
      ...(takes === undefined ? {} : { takes: `${takes} min` }),
      ...(what === "tool missing" && tool !== "" ? { tool } : {}),
      ...(what === "person gone" && person !== "" ? { person } : {}),
      ...namedIn("photos", photos),
      ...namedIn("voices", voices),
    };
    if (!(await enter(body))) return;
    photos.used();
    voices.used();
    type(empty);
    onEnd();
  };
  const tools = [...new Set((step === undefined ? brief.steps : [step]).flatMap((one) => one.tools))];
  return (
    <form
      class="asking"
      onSubmit={(event) => {
        event.preventDefault();
        void done();
      }}
    >
      <h1>
        {words.gates.kinds[what]}
        {about === "" ? "" : `: ${names.label(about)}`}
      </h1>
      <div class="row">
        <button type="submit" class="main act">
          {words.gates.enterFinding}
        </button>
      </div>
      {what === "tool missing" ? (
        <label class="field">
          <span>{words.gates.tool}</span>
          <select required value={tool} onChange={({ currentTarget }) => type({ ...typed, tool: currentTarget.value })}>
            <option value="">–</option>
            {tools.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
      ) : null}
      {what === "person gone" ? (
        <label class="field">
          <span>{words.gates.person}</span>
          <select
            required
            value={person}
            onChange={({ currentTarget }) => type({ ...typed, person: currentTarget.value })}
          >
            <option value="">–</option>
            {brief.people.map(({ id, label }) => (
              <option key={id} value={id}>
                {label}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      {what === "sheared" || what === "seized" ? (
        <fieldset class="row">
          <legend>{words.gates.takes}</legend>
          {TAKES.map((one) => (
            <button key={one} type="button" aria-pressed={takes === one} onClick={() => type({ ...typed, takes: one })}>
              {one} min
            </button>
          ))}
          <button type="button" aria-pressed={takes === undefined} onClick={() => type({ ...typed, takes: undefined })}>
            {words.gates.notAtAll}
          </button>
        </fieldset>
      ) : null}
      <label class="field">
        <span>{words.gates.words}</span>
        <input
          maxLength={400}
          value={text}
          onInput={({ currentTarget }) => type({ ...typed, text: currentTarget.value })}
        />
      </label>
      <TakeVoice run={book.run} onFull={() => tell({ lack: "room" }, "")}>
        <TakePhoto onFull={() => tell({ lack: "room" }, "")} />
        <button
          type="button"
          onClick={() => {
            voices.drop();
            type(empty);
            onEnd();
          }}
        >
          {words.hand.cancel}
        </button>
      </TakeVoice>
      <Photos digests={photos.taken} run={book.run} />
      <About about={about} onChange={(now) => type({ ...typed, about: now })} />
    </form>
  );
};

const OpenFindings = () => {
  const words = useWords();
  const figures = useFigures();
  const { book } = useWork();
  const names = new Names(book.brief);
  const open = book.ledger.findings().filter(({ state }) => state === "open");
  return (
    <section aria-labelledby="open-findings">
      <h2 id="open-findings">{words.gates.openFindings}</h2>
      {open.length === 0 ? <p>{words.gates.noFindings}</p> : null}
      <ul class="open-findings">
        {open.map(({ entry, author, at, found }) => (
          <li key={entry}>
            <p>
              <b>{words.gates.kinds[found.what]}</b>
              {found.about === undefined ? "" : `: ${names.label(found.about)}`}. {found.text}{" "}
              <small>
                {names.person(author)}, {figures.time(at)}
              </small>
            </p>
            <Photos digests={found.photos ?? []} run={book.run} />
            <Voices digests={found.voices ?? []} run={book.run} />
            <Ending finding={entry} />
          </li>
        ))}
      </ul>
    </section>
  );
};

interface Answer {
  readonly how?: "closed" | "left open";
  readonly text: string;
}
const NO_ANSWER: Answer = { text: "" };

const Ending = ({ finding }: { readonly finding: string }) => {
  const words = useWords();
  const { me, enter } = useWork();
  const [{ how, text }, type] = useTyped<Answer>(`answer ${finding}`, NO_ANSWER);
  if (me === undefined) return null;
  if (how === undefined)
    return (
      <div class="row">
        <button type="button" onClick={() => type({ how: "closed", text })}>
          {words.gates.close}
        </button>
        <button type="button" onClick={() => type({ how: "left open", text })}>
          {words.gates.leaveOpen}
        </button>
      </div>
    );
  return (
    <form
      class="asking"
      onSubmit={(event) => {
        event.preventDefault();
        void enter(
          how === "closed" ? { kind: "closed", finding, how: text } : { kind: "left open", finding, to: text },
        ).then((isEntered) => isEntered && type(NO_ANSWER));
      }}
    >
      <label class="field">
        <span>{how === "closed" ? words.gates.how : words.gates.toWhom}</span>
        <input
          required
          maxLength={400}
          value={text}
          onInput={({ currentTarget }) => type({ how, text: currentTarget.value })}
        />
      </label>
      <div class="row">
        <button type="submit" class="main">
          {words.hand.enter}
        </button>
        <button type="button" onClick={() => type(NO_ANSWER)}>
          {words.hand.cancel}
        </button>
      </div>
    </form>
  );
};

// Owns the first page of drafts: bring what was told, paste it, start from nothing, or go on with a draft of this device.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useEffect, useRef, useState } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import { beginDraft, COLUMNS, type Column } from "../../draft/index.ts";
import { Frame } from "../sheet/sheet.tsx";
import { drop } from "../shop/shelf.ts";
import { useDropped } from "../start/dropped.ts";
import { useWords } from "../words/words.ts";
import { DraftBlock } from "./block.tsx";
import { type Bringing, beginHere, TAKEN, type Unnamed, useBring } from "./bring.ts";
import { takeHanded } from "./handed.ts";
import { dropDraft, listDrafts } from "./kept.ts";

export const Begin = () => {
  const words = useWords();
  const bringing = useBring();
  useEffect(() => {
    document.title = `${words.drafts.title} – ${words.sheet.app}`;
  }, [words]);
  useDropped(TAKEN, (files) => void bringing.take(files));
  const { take } = bringing;
  useEffect(() => {
    const files = takeHanded();
    if (files.length > 0) void take(files);
  }, [take]);
  return (
    <Frame block={<DraftBlock name="" />}>
      <div class="drafts-begin">
        <header>
          <h1>{words.drafts.title}</h1>
          <p>{words.drafts.lead}</p>
        </header>
        <Said bringing={bringing} />
        <Bring bringing={bringing} />
        <Nothing />
        <Own />
      </div>
    </Frame>
  );
};

/** What is under way, or why nothing came of it. */
const Said = ({ bringing: { busy, refused, unnamed, hear } }: { readonly bringing: Bringing }) => {
  const words = useWords();
  if (busy)
    return (
      <p class="waiting busy" role="status">
        {words.drafts.making}
      </p>
    );
  if (refused.length === 0) return null;
  return (
    <div class="notice" role="alert">
      <p>
        <b>{words.drafts.refused}</b>
      </p>
      {refused.map(({ what, mend }) => (
        <p key={what}>
          {what}. {mend}
        </p>
      ))}
      {unnamed === undefined ? null : (
        <Columns unnamed={unnamed} onNamed={(columns) => void hear(unnamed.files, "", columns)} />
      )}
    </div>
  );
};

/** The columns of a table whose names nobody knows, asked once. */
const Columns = ({
  unnamed,
  onNamed,
}: {
  readonly unnamed: Unnamed;
  readonly onNamed: (columns: Readonly<Record<string, Column>>) => void;
}) => {
  const words = useWords();
  const [named, setNamed] = useState<Readonly<Record<string, Column>>>({});
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault();
        onNamed(named);
      }}
    >
      <p>
        <b>{words.drafts.columns}</b> {words.drafts.columnsLead}
      </p>
      <div class="row">
        {unnamed.columns.map((column) => (
          <label key={column} class="field">
            <span>{column}</span>
            <select
              value={named[column.toLowerCase()] ?? ""}
              onChange={({ currentTarget: { value } }) => {
                const { [column.toLowerCase()]: _, ...rest } = named;
                const found = COLUMNS.find((one) => one === value);
                setNamed(found === undefined ? rest : { ...rest, [column.toLowerCase()]: found });
              }}
            >
              <option value="">{words.drafts.noColumn}</option>
              {COLUMNS.map((one) => (
                <option key={one} value={one}>
                  {words.drafts.column[one]}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
      <p>
        <button type="submit" class="main" disabled={!Object.values(named).includes("label")}>
          {words.drafts.make}
        </button>
      </p>
    </form>
  );
};

const Bring = ({ bringing: { busy, take, hear } }: { readonly bringing: Bringing }) => {
  const words = useWords();
  const input = useRef<HTMLInputElement>(null);
  const [text, setText] = useState("");
  const [name, setName] = useState("");
  const tryDemo = async () => {
    const answer = await fetch("/app/demo/hauler.vtt");
    if (answer.ok) await hear([{ path: "hauler.vtt", text: await answer.text() }], "");
  };
  return (
    <section aria-labelledby="bring">
      <h2 id="bring">{words.drafts.bring}</h2>
      <p class="soft">{words.drafts.bringLead}</p>
      <p class="row">
        <button type="button" class="main" disabled={busy} onClick={() => input.current?.click()}>
          {words.drafts.open}
        </button>
        <button type="button" class="plain" disabled={busy} onClick={() => void tryDemo()}>
          {words.drafts.demo}
        </button>
        <input
          ref={input}
          class="unseen"
          type="file"
          multiple
          aria-label={words.drafts.open}
          tabIndex={-1}
          onChange={({ currentTarget }) => {
            void take([...(currentTarget.files ?? [])], name);
            currentTarget.value = "";
          }}
        />
      </p>
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          void hear([{ path: "pasted.txt", text }], name);
        }}
      >
        <label class="field">
          <span>{words.drafts.paste}</span>
          <textarea rows={6} value={text} onInput={({ currentTarget }) => setText(currentTarget.value)} />
        </label>
        <label class="field">
          <span>{words.drafts.pasteName}</span>
          <input value={name} onInput={({ currentTarget }) => setName(currentTarget.value)} />
        </label>
        <p>
          <button type="submit" disabled={busy || text.trim() === ""}>
            {words.drafts.make}
          </button>
        </p>
      </form>
    </section>
  );
};

const Nothing = () => {
  const words = useWords();
  const [, navigate] = useLocation();
  const [name, setName] = useState("");
  const [assembly, setAssembly] = useState("");
  const begin = async () => {
    const id = await beginHere(name, { text: beginDraft(name, assembly, words.drafts), narrations: [], remarks: [] });
    navigate(`/draft/${encodeURIComponent(id)}`);
  };
  return (
    <section aria-labelledby="nothing">
      <h2 id="nothing">{words.drafts.nothing}</h2>
      <p class="soft">{words.drafts.nothingLead}</p>
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          void begin();
        }}
      >
        <label class="field">
          <span>{words.drafts.machine}</span>
          <input required pattern=".*\S.*" value={name} onInput={({ currentTarget }) => setName(currentTarget.value)} />
        </label>
        <label class="field">
          <span>{words.drafts.assembly}</span>
          <input
            required
            pattern=".*\S.*"
            value={assembly}
            onInput={({ currentTarget }) => setAssembly(currentTarget.value)}
          />
        </label>
        <p>
          <button type="submit">{words.drafts.begin}</button>
        </p>
      </form>
    </section>
  );
};

const Own = () => {
  const words = useWords();
  const queries = useQueryClient();
  const own = useQuery({ queryKey: ["drafts"], queryFn: listDrafts, staleTime: 0 });
  const remove = async (id: string) => {
    await dropDraft(id);
    await drop({ from: "mine", id });
    await queries.invalidateQueries({ queryKey: ["drafts"] });
  };
  return (
    <section aria-labelledby="own-drafts">
      <h2 id="own-drafts">{words.drafts.own}</h2>
      {own.data?.length === 0 ? <p class="soft">{words.drafts.none}</p> : null}
      <ul class="models">
        {(own.data ?? []).map((id) => (
          <li key={id}>
            <Link class="button" href={`/draft/${encodeURIComponent(id)}`}>
              {id}
            </Link>
            <button type="button" class="plain small" onClick={() => void remove(id)}>
              {words.drafts.remove(id)}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
};

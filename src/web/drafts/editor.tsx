// Owns the editor of a draft: what was told on the left, the ties and the list in the middle, what is open on the right; by key and by button.

import { useCallback, useEffect, useMemo, useRef, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { type At, type Edit, notesOf } from "../../draft/index.ts";
import type { Model } from "../shop/model.tsx";
import { Downloads } from "../vehicles/downloads.tsx";
import { Keep } from "../vehicles/keep.tsx";
import { useWords } from "../words/words.ts";
import { type Action, actionOf, type Situation } from "./actions.ts";
import { Bar } from "./bar.tsx";
import { Chosen, Typed } from "./chosen.tsx";
import { useDesk } from "./desk.ts";
import type { DraftKept } from "./kept.ts";
import { Keys } from "./keys.tsx";
import { DraftList, FEW } from "./list.tsx";
import { Merging } from "./merging.tsx";
import { Narration } from "./narration.tsx";
import { type Passage, passageAt, passagesOf, sourcesIn } from "./passages.ts";
import { Pick } from "./pick.tsx";
import { Picture } from "./picture.tsx";
import { ANSWER, Questions } from "./questions.tsx";
import { type Player, Recording, useMedia } from "./recording.tsx";
import { Remarks } from "./remarks.tsx";
import { filtered, groupsOf } from "./rows.ts";
import { Taps } from "./taps.tsx";
import { TaskForm } from "./task-form.tsx";
import { useTelling } from "./telling.ts";

const PANES = ["words", "ties", "asked"] as const;
/** Pixels below which one of them is shown at a time. */
const NARROW = 720;

export const Editor = ({
  id,
  model,
  first,
}: {
  readonly id: string;
  readonly model: Model;
  readonly first: DraftKept;
}) => {
  const words = useWords();
  const desk = useDesk(id, model, first);
  const { act } = desk;
  const { reading } = model;
  const [chosenId, setChosen] = useState<string>();
  const [merging, setMerging] = useState<string>();
  const [dialog, setDialog] = useState<"move" | "help">();
  const [adding, setAdding] = useState<"connection" | "task">();
  // Where there is room for two, the ties are there anyway.
  const [pane, setPane] = useState<(typeof PANES)[number]>(() => (innerWidth > NARROW ? "asked" : "ties"));
  const [query, setQuery] = useState("");
  const [toLook, setToLook] = useState(false);
  const [second, setSecond] = useState<number>();
  const [media, putMedia] = useMedia(id);
  const telling = useTelling(desk, putMedia);
  const player = useRef<Player>(null);
  const page = useRef<HTMLDivElement>(null);
  /** Beside what was chosen when something was undone, the nearest first. */
  const near = useRef<{ readonly of: string | undefined; readonly beside: readonly string[] }>({
    of: undefined,
    beside: [],
  });

  // The last reading without a fault, so that nothing vanishes while a text is mended elsewhere.
  const sound = useRef(reading);
  if (reading.vehicle !== undefined) sound.current = reading;
  const { vehicle } = sound.current;
  const notes = useMemo(() => notesOf(desk.text), [desk.text]);
  const groups = useMemo(() => (vehicle === undefined ? [] : groupsOf(vehicle, notes)), [vehicle, notes]);
  const looked = useMemo(
    () => filtered(groups, query, toLook, (kind) => words.kinds[kind]),
    [groups, query, toLook, words],
  );
  const rows = useMemo(() => looked.flatMap((group) => group.rows.slice(0, FEW)), [looked]);
  const all = useMemo(() => groups.flatMap((group) => group.rows), [groups]);
  const hasTies = all.some(({ is }) => is === "connection");
  const open = useMemo(() => new Set(all.filter(({ assumed }) => assumed.length > 0).map((row) => row.id)), [all]);
  const found = useMemo(
    () => (looked === groups ? undefined : new Set(looked.flatMap((group) => group.rows.map((row) => row.id)))),
    [looked, groups],
  );
  const chosen = all.find((row) => row.id === chosenId);
  const isThere = chosen !== undefined;

  const { narrations } = desk.kept;
  const passages = useMemo(() => passagesOf(narrations), [narrations]);
  const marked = useMemo(
    () => new Set(chosen === undefined ? [] : sourcesIn(passages, chosen.said).map(({ n }) => n)),
    [passages, chosen],
  );
  const heard = useMemo(() => {
    const counts = new Map<number, number>();
    for (const { said } of notes)
      for (const { n } of sourcesIn(passages, said)) counts.set(n, (counts.get(n) ?? 0) + 1);
    return counts;
  }, [passages, notes]);
  const playable = [...marked].map((n) => passages[n]?.start).find((start) => start !== undefined);
  const situation: Situation = {
    chosen,
    canUndo: desk.canUndo,
    canRedo: desk.canRedo,
    canPlay: media !== undefined && playable !== undefined,
  };

  /** Chosen, seen, and with the focus where the keys go on from. */
  const choose = useCallback((to: string | undefined) => {
    setChosen(to);
    setAdding(undefined);
    setSecond(undefined);
  }, []);
  // Whatever it was chosen by, it is seen in the list; on a narrow screen the list stays where the finger is.
  useEffect(() => {
    if (chosenId === undefined || !isThere || innerWidth <= NARROW) return;
    page.current?.querySelector(`[data-row="${CSS.escape(chosenId)}"]`)?.scrollIntoView({ block: "nearest" });
  }, [chosenId, isThere]);
  const focusRow = useCallback((to: string) => {
    const row = page.current?.querySelector<HTMLElement>(`[data-row="${CSS.escape(to)}"]`);
    row?.focus({ preventScroll: true });
    row?.scrollIntoView({ block: "nearest" });
  }, []);
  /** By finger: what can be done with it is to be seen. */
  const chooseHere = useCallback(
    (to: string) => {
      choose(to);
      requestAnimationFrame(() => page.current?.querySelector(".at-hand")?.scrollIntoView({ block: "nearest" }));
    },
    [choose],
  );
  const goBy = (steps: number) => {
    const at = rows.findIndex((row) => row.id === chosenId);
    const to = rows[at < 0 ? (steps > 0 ? 0 : rows.length - 1) : Math.min(rows.length - 1, Math.max(0, at + steps))];
    if (to === undefined) return;
    choose(to.id);
    focusRow(to.id);
  };
  /** The next that is to be looked at, behind the chosen one; else the one beside it. */
  const after = (isOpen: boolean): string | undefined => {
    const at = rows.findIndex((row) => row.id === chosenId);
    const rest = [...rows.slice(at + 1), ...rows.slice(0, Math.max(0, at))];
    return (isOpen ? rest.find(({ id: one }) => open.has(one)) : (rows[at + 1] ?? rows[at - 1]))?.id;
  };
  const make = useCallback(
    (asked: Edit): string | undefined => {
      const about = act(asked);
      if (about !== undefined) setMerging(undefined);
      return about;
    },
    [act],
  );
  const edit = useCallback(
    (asked: Edit) => {
      const about = make(asked);
      if (about !== undefined) choose(about);
    },
    [make, choose],
  );
  const merge = (together: boolean) => {
    if (merging === undefined || chosenId === undefined || merging === chosenId) return;
    edit({ is: "merge", id: merging, with: chosenId, together });
  };

  /** What is chosen may be gone by it: then what stood beside it is. */
  const keepingNear = (act: () => void) => {
    const at = all.findIndex((row) => row.id === chosenId);
    const beside = at < 0 ? [] : [...all.slice(at + 1), ...all.slice(0, at).toReversed()].map((row) => row.id);
    near.current = { of: chosenId, beside };
    act();
  };
  useEffect(() => {
    const { of, beside } = near.current;
    if (of !== chosenId || all.some((row) => row.id === chosenId)) return;
    const to = beside.find((id) => all.some((row) => row.id === id));
    if (to === undefined) return;
    choose(to);
    focusRow(to);
  }, [all, chosenId, choose, focusRow]);

  const addOf = (what: "connection" | "task") => {
    if (innerWidth <= NARROW) setPane("ties");
    setAdding(what);
    setTimeout(() => {
      const first = page.current?.querySelector<HTMLElement>(".taps button");
      first?.focus({ preventScroll: true });
      first?.closest(".at-hand")?.scrollIntoView({ block: "nearest" });
    });
  };

  const does: Readonly<Record<Action["name"], () => void>> = {
    next: () => goBy(1),
    previous: () => goBy(-1),
    accept() {
      if (chosen === undefined) return;
      const to = after(true);
      if (make({ is: "accept", id: chosen.id }) === undefined || to === undefined) return;
      choose(to);
      focusRow(to);
    },
    merge() {
      if (merging === undefined || merging === chosenId) setMerging(merging === undefined ? chosenId : undefined);
      else merge(false);
    },
    split: () => chosen && edit({ is: "split", id: chosen.id }),
    move: () => setDialog("move"),
    part: () => chosen && edit({ is: "part", id: chosen.id }),
    connection: () => chosen && edit({ is: "connection", id: chosen.id }),
    remove() {
      if (chosen === undefined) return;
      const { id: gone } = chosen;
      const to = after(false);
      keepingNear(() => {
        if (make({ is: "delete", id: gone }) === undefined || to === undefined) return;
        choose(to);
        focusRow(to);
      });
    },
    play: () => playable !== undefined && player.current?.playFrom(playable),
    undo: () => keepingNear(desk.undo),
    redo: () => keepingNear(desk.redo),
    search: () => page.current?.querySelector<HTMLElement>("input[type=search]")?.focus(),
    add: () => addOf("connection"),
    task: () => addOf("task"),
    asked() {
      setPane("asked");
      setTimeout(() => page.current?.querySelector<HTMLElement>(ANSWER)?.focus());
    },
    help: () => setDialog("help"),
  };
  const acts = useRef({ does, situation, isMerging: false });
  acts.current = { does, situation, isMerging: merging !== undefined };
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.key === "Escape" && acts.current.isMerging) setMerging(undefined);
      const action = actionOf(event);
      if (action === undefined || !action.can(acts.current.situation)) return;
      event.preventDefault();
      acts.current.does[action.name]();
    };
    addEventListener("keydown", press);
    return () => removeEventListener("keydown", press);
  }, []);

  const now = second === undefined ? undefined : passageAt(passages, second)?.n;
  const toPassage = useCallback(
    ({ n, start }: Passage) => {
      // Pressed again, the next of several that were heard in it.
      const here = notes.filter(({ said }) => sourcesIn(passages, said).some((one) => one.n === n));
      const of = here[(here.findIndex((note) => note.id === chosenId) + 1) % here.length];
      if (of !== undefined) choose(of.id);
      if (start !== undefined) player.current?.playFrom(start);
    },
    [notes, passages, choose, chosenId],
  );

  const fault = desk.fault === undefined ? telling.refused : `${desk.fault.what}. ${desk.fault.mend}`;
  return (
    <div class={`draft-editor pane-${pane}`} ref={page}>
      <nav class="panes" aria-label={words.drafts.panes}>
        {PANES.map((one) => (
          <button
            key={one}
            type="button"
            aria-pressed={one === pane}
            onClick={() => {
              setPane(one);
              // Of another pane one sees its beginning.
              page.current?.scrollIntoView({ block: "start" });
            }}
          >
            {words.drafts.pane[one]}
          </button>
        ))}
      </nav>
      <section class="told" aria-labelledby="told">
        <div>
          <h2 id="told">{words.drafts.narration}</h2>
          {desk.kept.narrations.map(({ file, odd }) =>
            odd === undefined ? null : (
              <p key={file} class="small doubt">
                {words.drafts.letters[odd.as](file, odd.line)}
              </p>
            ),
          )}
        </div>
        <Narration passages={passages} marked={marked} now={now} heard={heard} onPassage={toPassage} />
        <Recording
          media={media}
          onMedia={putMedia}
          player={player}
          onTime={setSecond}
          typed={desk.kept.typed}
          busy={telling.busy}
          onType={desk.type}
          onDraft={telling.hearTyped}
        />
      </section>
      <div class="middle">
        <Bar
          query={query}
          onQuery={setQuery}
          toLook={toLook}
          onToLook={setToLook}
          situation={situation}
          onAct={(name) => does[name]()}
        />
        {fault === undefined ? null : (
          <div class="notice" role="alert">
            <p>{fault}</p>
            <button
              type="button"
              onClick={() => {
                desk.forget();
                telling.forget();
              }}
            >
              {words.sheet.close}
            </button>
          </div>
        )}
        {reading.vehicle === undefined ? (
          <div class="notice" role="alert">
            <p>{words.drafts.faults}</p>
            <Link class="button" href={`/mine/${encodeURIComponent(id)}/vehicle?view=text`}>
              {words.drafts.toText}
            </Link>
          </div>
        ) : null}
        {vehicle === undefined ? null : (
          <>
            <Picture vehicle={vehicle} toLook={open} chosen={chosenId} found={found} onChoose={choose} />
            <div class="beneath">
              <div class="listed">
                <h2>
                  {words.drafts.list} <span class="soft">· {words.drafts.looks(open.size)}</span>
                </h2>
                {hasTies ? null : <p class="soft">{words.drafts.empty}</p>}
                {rows.length > 0 || !hasTies ? null : <p class="soft">{words.drafts.noneFound}</p>}
                <DraftList groups={looked} chosen={chosenId} merging={merging} onChoose={chooseHere} />
              </div>
              <div class="at-hand">
                {merging === undefined ? null : (
                  <Merging
                    label={all.find((row) => row.id === merging)?.label ?? merging}
                    canMerge={chosen?.is === "connection" && chosenId !== merging}
                    onMerge={merge}
                    onLeave={() => setMerging(undefined)}
                  />
                )}
                {adding === "task" ? (
                  <TaskForm
                    vehicle={vehicle}
                    onAdd={(added) => edit({ is: "add-task", ...added })}
                    onLeave={() => setAdding(undefined)}
                  />
                ) : adding === "connection" || (!hasTies && chosen === undefined) ? (
                  <Taps
                    vehicle={vehicle}
                    onAdd={(added) => {
                      const about = make({ is: "add", ...added });
                      // The next one is tapped at once.
                      if (about !== undefined) {
                        setChosen(about);
                        setAdding("connection");
                      }
                      return about !== undefined;
                    }}
                    {...(!hasTies ? {} : { onLeave: () => setAdding(undefined) })}
                  />
                ) : chosen === undefined ? (
                  <p class="soft chosen">{words.drafts.nothingChosen}</p>
                ) : (
                  <Chosen
                    row={chosen}
                    vehicle={vehicle}
                    situation={situation}
                    onAct={(name) => does[name]()}
                    onEdit={edit}
                  />
                )}
              </div>
            </div>
          </>
        )}
      </div>
      <aside class="to-answer">
        <Questions text={desk.text} reading={sound.current} onAnswer={desk.answer} onChoose={choose} />
        <Remarks kept={desk.kept} reading={sound.current} onChoose={choose} onSettle={desk.settle} />
        <section class="done" aria-labelledby="done">
          <h2 id="done">{words.drafts.done}</h2>
          <p class="small soft">{words.drafts.doneLead}</p>
          {vehicle === undefined ? null : (
            <Typed
              label={words.drafts.machine}
              value={vehicle.name}
              onTyped={(label) => void make({ is: "name", label })}
            />
          )}
          <p class="row">
            <Link class="button main" href={`/mine/${encodeURIComponent(id)}/order`}>
              {words.drafts.plan}
            </Link>
          </p>
          <Downloads />
          <Keep />
        </section>
      </aside>
      {dialog === "move" && chosen !== undefined && vehicle !== undefined ? (
        <Pick
          title={words.drafts.moveTo(chosen.label)}
          given={vehicle.positions}
          usual={words.drafts.places}
          onPick={(to: At) => {
            setDialog(undefined);
            edit({ is: "move", id: chosen.id, to });
          }}
          onClose={() => setDialog(undefined)}
        />
      ) : null}
      {dialog === "help" ? <Keys onClose={() => setDialog(undefined)} /> : null}
    </div>
  );
};

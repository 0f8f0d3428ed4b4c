// Owns the sheet of the timeline: who does what when, what binds, and pins that are tried at once, the schedule before beside them.

import { useCallback, useEffect, useMemo, useRef, useState } from "preact/hooks";
import { Link, useSearch } from "wouter-preact";
import type { CrewPlan, Pin } from "../../plan/index.ts";
import type { CrewSaid } from "../engine/crews.ts";
import { Help } from "../sheet/help.tsx";
import { Failed } from "../sheet/states.tsx";
import { type Known, useModel } from "../shop/model.tsx";
import { useMinute } from "../shop/runs.ts";
import { useWords } from "../words/words.ts";
import type { Dropped } from "./drag.ts";
import { Drawing } from "./drawing.tsx";
import { ScheduleFigures } from "./figures.tsx";
import { type Doing, layOut } from "./layout.ts";
import { AsTable, Binds, ByPerson } from "./lists.tsx";
import { PinList, RefusedPins } from "./pin-list.tsx";
import { pinnedTo, pinnedWhen, samePin, usePins } from "./pins.ts";
import { useReading } from "./reading.ts";
import { StepPanel } from "./step-panel.tsx";
import { useCrew } from "./use-crew.ts";

type Planned = CrewSaid & { readonly plan: CrewPlan };
const isPlanned = (said: CrewSaid | undefined): said is Planned => said?.plan !== undefined;

/** What is drawn: the newest schedule there is, and the one before the pins were last changed. */
interface Shown {
  readonly of: string;
  readonly said: Planned;
  readonly before?: Planned;
}

const useShown = (known: Known<CrewSaid>, question: string, pins: string): Shown | undefined => {
  const shown = useRef<Shown & { readonly question: string }>();
  const { data, isPlaceholderData } = known;
  if (shown.current !== undefined && shown.current.question !== question) shown.current = undefined;
  if (isPlanned(data) && !isPlaceholderData) {
    const last = shown.current;
    const before = last === undefined ? undefined : last.of === pins ? last.before : last.said;
    shown.current = { question, of: pins, said: data, ...(before === undefined ? {} : { before }) };
  }
  return shown.current;
};

/** Seconds of search for the schedule without pins, where only the one with them was asked for. */
const UNPINNED = 5;

export const TimelineSheet = () => {
  const words = useWords();
  const search = useSearch();
  const { files } = useModel();
  const [pins, setPins] = usePins();
  const known = useCrew(pins);
  const question = useMemo(() => {
    const given = new URLSearchParams(search);
    given.delete("pin");
    return given.toString();
  }, [search]);
  const numbers = useRef(new Map<unknown, number>());
  if (!numbers.current.has(files)) numbers.current.set(files, numbers.current.size);
  const asked = `${numbers.current.get(files)} ${question}`;
  const own = useShown(known, asked, JSON.stringify(pins));
  const { data, isPlaceholderData, isFetching } = known;
  const fresh = isPlaceholderData ? undefined : data;
  // Who comes by a link with pins has seen nothing before: then what they cost is told beside the schedule without any.
  const bare = useCrew(undefined, pins.length > 0 && own?.before === undefined && fresh?.isLast === true, UNPINNED);
  const unpinned = useRef<{ readonly of: string; readonly said: Planned }>();
  if (isPlanned(bare.data) && !bare.isPlaceholderData) unpinned.current = { of: asked, said: bare.data };
  const free = unpinned.current?.of === asked ? unpinned.current.said : undefined;
  const shown: Shown | undefined =
    free === undefined || own?.before !== undefined
      ? own
      : own === undefined
        ? { of: "", said: free }
        : { ...own, before: free };
  if (known.error !== null) return <Failed error={known.error} again={() => void known.refetch()} />;
  const lack =
    fresh === undefined ? null : <Lacks said={fresh} hasPins={pins.length > 0} isDrawn={shown !== undefined} />;
  if (shown === undefined)
    return fresh !== undefined ? (
      <div class="timeline">{lack}</div>
    ) : (
      <p class="waiting busy">{words.sheet.computing}</p>
    );
  return (
    <Timeline
      shown={shown}
      isTrying={fresh?.plan === undefined}
      isBusy={isFetching}
      pins={pins}
      onPin={setPins}
      refused={fresh?.refused ?? []}
      lack={lack}
    />
  );
};

/** Why there is no schedule, in words; null where there is one. */
const Lacks = ({
  said,
  hasPins,
  isDrawn,
}: {
  readonly said: CrewSaid;
  readonly hasPins: boolean;
  readonly isDrawn: boolean;
}) => {
  const words = useWords();
  const search = useSearch();
  const { base } = useModel();
  const { timeline } = words;
  if (said.plan !== undefined) return null;
  const link = (
    <Link class="button" href={`/${base.from}/${encodeURIComponent(base.id)}/order?${search}`}>
      {timeline.toOrder}
    </Link>
  );
  const notice = (what: string, mends: readonly (readonly [what: string, mend: string])[]) => (
    <div class="notice" role="alert">
      <p>
        <b>{what}</b>
      </p>
      {mends.map(([because, mend]) => (
        <p key={because}>
          {because.charAt(0).toUpperCase()}
          {because.slice(1)}
          {mend === "" ? "" : ` ${mend}`}
        </p>
      ))}
      {hasPins && isDrawn ? <p>{timeline.kept}</p> : link}
    </div>
  );
  if (said.faults.length > 0)
    return notice(
      timeline.noPlan,
      said.faults.map(({ what, mend }) => [`${what}.`, mend]),
    );
  if (said.none !== undefined)
    return said.none === "no plan"
      ? notice(timeline.noPlan, [[timeline.noPlanMend, ""]])
      : notice(timeline.noWayBack, [[timeline.noWayBackMend, ""]]);
  if (said.lacks.length > 0)
    return notice(
      hasPins ? timeline.pinsCannot : timeline.cannot,
      said.lacks.map(({ what, mend }) => [`${what}.`, mend]),
    );
  return notice(timeline.notFound, [[timeline.notFoundMend, ""]]);
};

/** Below this width people are listed one after the other. */
const NARROW = "(max-width: 700px)";

const useNarrow = (): boolean => {
  const [isNarrow, setNarrow] = useState(() => matchMedia(NARROW).matches);
  useEffect(() => {
    const query = matchMedia(NARROW);
    const hear = () => setNarrow(query.matches);
    query.addEventListener("change", hear);
    return () => query.removeEventListener("change", hear);
  }, []);
  return isNarrow;
};

interface TimelineProps {
  readonly shown: Shown;
  /** What is drawn is the schedule before: with these pins there is none yet, or none at all. */
  readonly isTrying: boolean;
  readonly isBusy: boolean;
  readonly pins: readonly Pin[];
  readonly onPin: (pins: readonly Pin[]) => void;
  readonly refused: CrewSaid["refused"];
  readonly lack: preact.JSX.Element | null;
}

const Timeline = ({ shown, isTrying, isBusy, pins, onPin, refused, lack }: TimelineProps) => {
  const { run } = useModel();
  const minute = useMinute(run?.id);
  // A run that took longer than planned has left the drawing.
  const now = minute === undefined || minute > shown.said.plan.now + shown.said.plan.elapsed ? undefined : minute;
  const words = useWords();
  const isNarrow = useNarrow();
  const { said, before } = shown;
  const layout = useMemo(() => layOut(said.plan, said.held), [said]);
  const earlier = useMemo(() => (before === undefined ? undefined : layOut(before.plan, before.held)), [before]);
  const reading = useReading(said.plan, layout);
  const [hidden, setHidden] = useState<Planned>();
  const [opened, setOpened] = useState<{ readonly pin: string; readonly start: number }>();
  const from = useRef<HTMLElement | null>(null);
  const open =
    opened === undefined
      ? undefined
      : (layout.doings.find(({ pin, start }) => pin === opened.pin && start === opened.start) ??
        layout.doings.find(({ pin }) => pin === opened.pin));
  const onOpen = useCallback((doing: Doing) => {
    if (document.activeElement instanceof HTMLElement && document.activeElement.closest(".step-panel") === null)
      from.current = document.activeElement;
    setOpened({ pin: doing.pin, start: doing.start });
  }, []);
  const onClose = useCallback(() => {
    setOpened(undefined);
    const again = from.current;
    const bar = () =>
      document.querySelector<HTMLElement>('[data-bar][aria-expanded="true"], [data-bar][tabindex="0"]') ??
      document.querySelector<HTMLElement>("[data-doing]");
    (again?.isConnected === true ? again : bar())?.focus();
  }, []);
  const onDrop = useCallback(
    ({ bar, at, person }: Dropped) => {
      const { pin: step, action } = bar.doing;
      const isTurn = action === "set" || action === "clear";
      const when = at === undefined ? pins : pinnedWhen(pins, step, isTurn ? { step, from: at } : { step, at });
      onPin(person === undefined ? when : pinnedTo(when, step, person, bar.person));
    },
    [pins, onPin],
  );
  const kept = useMemo(() => pins.filter((pin) => !refused.some((fault) => samePin(fault.pin, pin))), [pins, refused]);
  const compared = before !== undefined && hidden !== before ? before : undefined;
  const trying = isTrying ? said.plan : compared?.plan;
  return (
    <div class="timeline">
      <h1 class="unseen">{words.timeline.drawing}</h1>
      <ScheduleFigures
        said={said}
        isBusy={isBusy}
        {...(trying === undefined || (isTrying && !isBusy) ? {} : { compared: { before: trying, isTrying } })}
      />
      {lack}
      <RefusedPins pins={pins} refused={refused} reading={reading} onChange={onPin} />
      <div class={open === undefined ? "drawn" : "drawn with-panel"}>
        {isNarrow ? (
          <ByPerson
            layout={layout}
            reading={reading}
            onOpen={onOpen}
            {...(open === undefined ? {} : { open })}
            {...(now === undefined ? {} : { now })}
          />
        ) : (
          <Drawing
            layout={layout}
            reading={reading}
            pins={kept}
            onOpen={onOpen}
            onDrop={onDrop}
            isTrying={isTrying && isBusy}
            {...(open === undefined ? {} : { open })}
            {...(now === undefined ? {} : { now })}
            {...(compared === undefined || earlier === undefined ? {} : { earlier })}
          />
        )}
        {open === undefined ? null : (
          <StepPanel doing={open} reading={reading} pins={pins} onPin={onPin} onOpen={onOpen} onClose={onClose} />
        )}
      </div>
      <PinList
        pins={kept}
        reading={reading}
        onChange={(next) => onPin([...pins.filter((pin) => !kept.includes(pin)), ...next])}
        {...(compared === undefined ? {} : { onHide: () => setHidden(compared) })}
      />
      <Binds reading={reading} />
      {isNarrow ? null : (
        <AsTable layout={layout} reading={reading} onOpen={onOpen} {...(open === undefined ? {} : { open })} />
      )}
      <Help title={words.timeline.help.title}>{words.timeline.help.text}</Help>
    </div>
  );
};

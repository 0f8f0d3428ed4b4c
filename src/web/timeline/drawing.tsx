// Owns the drawing of the schedule: a row for each person, what goes on by itself, how the vehicle stands, the chain through it, and the schedule before as outlines.

import { memo } from "preact/compat";
import { useCallback, useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Pin } from "../../plan/index.ts";
import { useWords } from "../words/words.ts";
import { ticksBetween } from "./clock.ts";
import { type Dropped, useDrag } from "./drag.ts";
import { type Ground, groundOf } from "./ground.ts";
import type { Bar, Doing, Layout } from "./layout.ts";
import { Legend, patternOf } from "./legend.tsx";
import type { Reading } from "./reading.ts";
import { nextBar } from "./roving.ts";
import { bareName } from "./step-name.ts";

interface DrawingProps {
  readonly layout: Layout;
  readonly reading: Reading;
  readonly pins: readonly Pin[];
  /** The schedule before, where it is shown. */
  readonly earlier?: Layout;
  /** The bar that is open. */
  readonly open?: Doing;
  readonly onOpen: (doing: Doing) => void;
  readonly onDrop: (dropped: Dropped) => void;
  /** What is drawn is the schedule before; another is asked for. */
  readonly isTrying: boolean;
  /** Minute at which a run stands. */
  readonly now?: number;
}

const ZOOMS = [1, 1.5, 2, 3, 4, 6, 8, 12];
/** Names stand in what is at least so wide, pixels. */
const NAMED = 40;
const BOUND = 44;
/** Fewer pixels for a minute than this are no drawing: then it is scrolled. */
const LEAST_SCALE = 1.2;

const useWidth = (ref: { readonly current: HTMLElement | null }): number => {
  const [width, setWidth] = useState(900);
  useEffect(() => {
    const box = ref.current;
    if (box === null) return;
    const watch = new ResizeObserver(() => setWidth(box.clientWidth));
    watch.observe(box);
    return () => watch.disconnect();
  }, [ref]);
  return width;
};

export const Drawing = ({ layout, reading, pins, earlier, open, onOpen, onDrop, isTrying, now }: DrawingProps) => {
  const words = useWords();
  const { plan } = reading;
  const scroll = useRef<HTMLDivElement>(null);
  const field = useRef<HTMLDivElement>(null);
  const ghost = useRef<HTMLDivElement>(null);
  const line = useRef<HTMLParagraphElement>(null);
  const width = useWidth(scroll);
  const [zoom, setZoom] = useState(0);
  const factor = ZOOMS[zoom] ?? 1;
  const whole = Math.max(width - 2, plan.elapsed * LEAST_SCALE);
  const ground = useMemo(() => groundOf(plan, layout, whole * factor), [plan, layout, whole, factor]);
  const byKey = useMemo(() => new Map(layout.bars.map((bar) => [bar.key, bar])), [layout]);

  const tell = (bar: Bar | undefined) => {
    if (line.current !== null) line.current.textContent = bar === undefined ? "" : sayBar(reading, bar);
  };
  useDrag(field, ghost, {
    ground,
    begins: plan.crew.begins,
    barOf: (key) => byKey.get(key),
    says: ({ bar, at, person }) =>
      [at === undefined ? "" : reading.at(at), person === undefined ? "" : reading.who(person), bareName(bar.doing)]
        .filter((part) => part !== "")
        .join(", "),
    onDrop,
    isTrying,
  });

  /** The minute in the middle stays there. */
  const zoomTo = (next: number, about?: number) => {
    const box = scroll.current;
    const place = Math.min(ZOOMS.length - 1, Math.max(0, next));
    if (box === null || place === zoom) return;
    const spot = about ?? box.clientWidth / 2;
    const minute = ground.minute(box.scrollLeft + spot);
    setZoom(place);
    const by = (whole * (ZOOMS[place] ?? 1)) / Math.max(1, plan.elapsed);
    requestAnimationFrame(() => {
      box.scrollLeft = (minute - plan.now) * by - spot;
    });
  };
  const zoomNow = useRef(zoomTo);
  zoomNow.current = zoomTo;
  const zoomAt = useRef(zoom);
  zoomAt.current = zoom;
  useEffect(() => {
    const box = scroll.current;
    if (box === null) return;
    const wheel = (event: WheelEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      const about = event.clientX - box.getBoundingClientRect().left;
      zoomNow.current(zoomAt.current + (event.deltaY < 0 ? 1 : -1), about);
    };
    box.addEventListener("wheel", wheel, { passive: false });
    return () => box.removeEventListener("wheel", wheel);
  }, []);

  // A bar that was gone to may have gone to somebody else with a better schedule.
  useEffect(() => {
    const bars = field.current;
    if (bars?.querySelector('[data-bar][tabindex="0"]') !== null) return;
    const first = bars.querySelector<HTMLElement>("[data-bar]");
    if (first !== null) first.tabIndex = 0;
  }, [layout]);

  const barAt = (target: EventTarget | null): Bar | undefined => {
    const found = target instanceof Element ? target.closest<HTMLElement>("[data-bar]") : null;
    return byKey.get(found?.dataset.bar ?? "");
  };
  const key = (event: KeyboardEvent) => {
    const bar = barAt(event.target);
    if (bar === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const people = plan.crew.people.map(({ id }) => id);
    const next = nextBar(layout.bars, people, bar, event.key);
    if (event.key === "+" || event.key === "-") zoomTo(zoom + (event.key === "+" ? 1 : -1));
    else if (next === undefined) return;
    else field.current?.querySelector<HTMLElement>(`[data-bar="${CSS.escape(next.key)}"]`)?.focus();
    event.preventDefault();
  };
  /** The tab order has the bar that was last gone to, or the first. */
  const rove = (event: FocusEvent) => {
    const bar = barAt(event.target);
    if (bar === undefined) return;
    for (const one of field.current?.querySelectorAll<HTMLElement>('[data-bar][tabindex="0"]') ?? []) one.tabIndex = -1;
    if (event.target instanceof HTMLElement) event.target.tabIndex = 0;
    tell(bar);
  };
  const click = useCallback(
    (event: MouseEvent) => {
      const found = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-bar]") : null;
      const bar = byKey.get(found?.dataset.bar ?? "");
      if (bar !== undefined) onOpen(bar.doing);
    },
    [byKey, onOpen],
  );

  return (
    <section class="when" aria-label={words.timeline.drawing}>
      <div class="when-tools">
        <button
          type="button"
          onClick={() => zoomTo(zoom - 1)}
          disabled={zoom === 0}
          aria-label={words.timeline.farther}
        >
          −
        </button>
        <button
          type="button"
          onClick={() => zoomTo(zoom + 1)}
          disabled={zoom === ZOOMS.length - 1}
          aria-label={words.timeline.nearer}
        >
          +
        </button>
        <button type="button" onClick={() => zoomTo(0)} disabled={zoom === 0}>
          {words.timeline.whole}
        </button>
        <p class="reading-line small" ref={line} aria-hidden="true" />
      </div>
      <div class="when-body">
        <Names reading={reading} layout={layout} ground={ground} />
        <div class="when-scroll" ref={scroll}>
          {/* biome-ignore lint/a11y/noStaticElementInteractions: the bars in it are buttons; what they do is heard here once for all of them */}
          <div
            class="field"
            ref={field}
            style={{ width: `${ground.width}px`, height: `${ground.height}px`, "--lines": String(ground.lines) }}
            onClick={click}
            onKeyDown={key}
            onFocusIn={rove}
            onPointerOver={(event: PointerEvent) => tell(barAt(event.target))}
          >
            <Under ground={ground} reading={reading} layout={layout} />
            {earlier === undefined ? null : <Outlines earlier={earlier} layout={layout} ground={ground} />}
            <Bars layout={layout} reading={reading} ground={ground} pins={pins} open={open?.pin} />
            <Over
              ground={ground}
              layout={layout}
              {...(now === undefined ? {} : { now, nowText: words.timeline.now })}
            />
            <div class="ghost" ref={ghost} hidden aria-hidden="true">
              <b />
            </div>
          </div>
        </div>
      </div>
      <Legend plan={plan} hasEarlier={earlier !== undefined} />
      <p class="small soft">{words.timeline.hint}</p>
    </section>
  );
};

const sayBar = (reading: Reading, { doing, person }: Bar): string => {
  const who = [person, ...doing.people.filter((other) => other !== person)];
  const text = reading.words.timeline.bar(
    reading.whoAll(who),
    reading.at(doing.start),
    reading.at(doing.free),
    reading.name(doing),
    reading.where(doing.position),
  );
  return `${text}. ${reading.why(doing)}`;
};

const Names = ({
  reading,
  layout,
  ground,
}: {
  readonly reading: Reading;
  readonly layout: Layout;
  readonly ground: Ground;
}) => {
  const { words, plan } = reading;
  return (
    <div class="when-names" style={{ height: `${ground.height}px` }} aria-hidden="true">
      <small class="one-line" style={{ top: "4px" }}>
        {words.timeline.axis(plan.crew.begins !== undefined)}
      </small>
      <small style={{ top: `${ground.bindsTop + 5}px` }}>{words.timeline.binds}</small>
      {plan.crew.people.map(({ id, skills }) => (
        <div key={id} style={{ top: `${ground.personTop(id)}px` }}>
          <b>{reading.who(id)}</b>
          <small>{skills.join(", ")}</small>
        </div>
      ))}
      {layout.lanes === 0 ? null : <small style={{ top: `${ground.laneTop(0)}px` }}>{words.timeline.alone}</small>}
      {layout.states.map(({ id, label }, place) => (
        <small key={id} class="one-line" style={{ top: `${ground.stateTop(place)}px` }} title={label}>
          {label}
        </small>
      ))}
    </div>
  );
};

interface Painted {
  readonly ground: Ground;
  readonly layout: Layout;
  readonly reading: Reading;
}

/** What lies under the bars: the marks of time, what binds, where people are, what goes on by itself, how the vehicle stands. */
const Under = memo(({ ground, layout, reading }: Painted) => {
  const { words, plan } = reading;
  const { x } = ground;
  const ends = plan.now + plan.elapsed;
  const ticks = ticksBetween(plan.now, ends, plan.crew.begins, ground.scale);
  const across = (from: number, until: number) => ({
    left: `${x(from)}px`,
    width: `${Math.max(1, x(until) - x(from))}px`,
  });
  return (
    <div aria-hidden="true">
      <svg class="marks" width={ground.width} height={ground.height} aria-hidden="true">
        {ticks.map((minute) => (
          <path key={minute} d={`M${x(minute)} 20V${ground.height}`} />
        ))}
        {layout.states.map(({ id, on, turns }, place) => {
          const [top, bottom] = [ground.stateTop(place), ground.stateTop(place) + ground.stateHigh];
          return (
            <g key={id} class="state">
              <path class="foot" d={`M0 ${bottom}H${ground.width}`} />
              {on.map(({ from, until }) => (
                <rect key={from} x={x(from)} y={top} width={Math.max(0, x(until) - x(from))} height={bottom - top} />
              ))}
              {turns.map(({ to, from, until }) => (
                <path
                  key={from}
                  class="turn"
                  d={
                    to
                      ? `M${x(from)} ${bottom}L${x(until)} ${top}V${bottom}Z`
                      : `M${x(from)} ${bottom}V${top}L${x(until)} ${bottom}Z`
                  }
                />
              ))}
            </g>
          );
        })}
      </svg>
      {ticks.map((minute) => (
        <small key={minute} class={x(minute) < 14 ? "tick first" : "tick"} style={{ left: `${x(minute)}px` }}>
          {reading.at(minute)}
        </small>
      ))}
      {plan.chain.map((run) => (
        <small
          key={run.from}
          class="bind"
          title={`${reading.span(run.from, run.until)} ${reading.because(run)}`}
          style={{ ...across(run.from, run.until), top: `${ground.bindsTop}px`, height: `${ground.bindsHigh}px` }}
        >
          {x(run.until) - x(run.from) < BOUND ? "" : reading.binds(run)}
        </small>
      ))}
      {layout.stays.map(({ person, position, from, until }) => (
        <small
          key={`${person} ${from}`}
          class="stay"
          style={{ ...across(from, until), top: `${ground.personTop(person) + ground.bar + 1}px` }}
        >
          {x(until) - x(from) < NAMED ? "" : reading.where(position)}
        </small>
      ))}
      {plan.away.map(({ person, from, until }) => (
        <small
          key={`${person} ${from}`}
          class="away"
          style={{ ...across(from, until), top: `${ground.personTop(person)}px`, height: `${ground.bar}px` }}
        >
          {words.timeline.away}
        </small>
      ))}
      {layout.alone.map(({ key, doing, from, until, lane }) => (
        <small
          key={key}
          class="alone"
          title={`${reading.span(from, until)} ${reading.name(doing)}`}
          style={{ ...across(from, until), top: `${ground.laneTop(lane)}px`, height: `${ground.laneHigh}px` }}
        >
          {x(until) - x(from) < NAMED ? "" : bareName(doing)}
        </small>
      ))}
    </div>
  );
});

interface BarsProps extends Painted {
  readonly pins: readonly Pin[];
  readonly open: string | undefined;
}

const Bars = memo(({ ground, layout, reading, pins, open }: BarsProps) => {
  const { words, plan } = reading;
  const pinned = new Set(pins.map(({ step }) => step));
  const patterns = patternOf(plan);
  const people = plan.crew.people.map(({ id }) => id);
  const inRows = people.flatMap((person) => layout.bars.filter((bar) => bar.person === person));
  return (
    <ol aria-label={words.timeline.drawing}>
      {inRows.map((bar, place) => {
        const { doing, person } = bar;
        const left = ground.x(doing.start);
        const wide = Math.max(3, ground.x(doing.free) - left);
        const isPinned = pinned.has(doing.pin);
        return (
          <li key={bar.key}>
            <button
              type="button"
              data-bar={bar.key}
              tabIndex={place === 0 ? 0 : -1}
              class={`bar ${patterns(doing.position)}${doing.isChained ? " chained" : ""}${isPinned ? " pinned" : ""}`}
              aria-expanded={open === doing.pin}
              aria-label={`${sayBar(reading, bar)}${isPinned ? ` (${words.timeline.pinnedMark})` : ""}`}
              style={{
                left: `${left}px`,
                top: `${ground.personTop(person)}px`,
                width: `${wide}px`,
                height: `${ground.bar}px`,
              }}
            >
              {wide < NAMED ? null : <span>{bareName(doing)}</span>}
            </button>
          </li>
        );
      })}
    </ol>
  );
});

/** Where things stood before, where they stand elsewhere now. */
const Outlines = memo(
  ({ earlier, layout, ground }: { readonly earlier: Layout; readonly layout: Layout; readonly ground: Ground }) => {
    const spot = ({ key, doing }: Bar) => `${key} ${doing.start}`;
    const same = new Set(layout.bars.map(spot));
    return (
      <div aria-hidden="true">
        {earlier.bars
          .filter((bar) => !same.has(spot(bar)))
          .map(({ key, person, doing }) => (
            <i
              key={key}
              class="outline"
              style={{
                left: `${ground.x(doing.start)}px`,
                top: `${ground.personTop(person) - 3}px`,
                width: `${Math.max(2, ground.x(doing.free) - ground.x(doing.start))}px`,
                height: `${ground.bar + 6}px`,
              }}
            />
          ))}
      </div>
    );
  },
);

/** The chain as one heavy line through what makes the whole this long, and where a run stands. */
const Over = ({
  ground,
  layout,
  now,
  nowText,
}: {
  readonly ground: Ground;
  readonly layout: Layout;
  readonly now?: number;
  readonly nowText?: string;
}) => {
  const paths = useMemo(() => {
    const y = (row: string | number) =>
      typeof row === "string" ? ground.personTop(row) + ground.bar - 7 : ground.laneTop(row) + ground.laneHigh - 2;
    const heavy = layout.chain.map(({ row, from, until }) => `M${ground.x(from)} ${y(row)}H${ground.x(until)}`);
    const between = layout.chain.slice(1).map(({ row, from }, place) => {
      const before = layout.chain[place] ?? { row, until: from };
      return `M${ground.x(before.until)} ${y(before.row)}L${ground.x(from)} ${y(row)}`;
    });
    return { heavy: heavy.join(""), between: between.join("") };
  }, [ground, layout]);
  return (
    <svg class="over" width={ground.width} height={ground.height} aria-hidden="true">
      <path class="chain" d={paths.heavy} />
      <path class="chain-on" d={paths.between} />
      {now === undefined ? null : (
        <g class="now">
          <path d={`M${ground.x(now)} 14V${ground.height}`} />
          <text x={ground.x(now) + 4} y={12}>
            {nowText}
          </text>
        </g>
      )}
    </svg>
  );
};

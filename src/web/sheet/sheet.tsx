// Owns the sheet: the frame of the drawing, the title block with the way to the other sheets, and what stands there while there is nothing to draw.

import type { ComponentChildren, ComponentType } from "preact";
import { lazy, Suspense } from "preact/compat";
import { useEffect, useState } from "preact/hooks";
import { Link, useSearch } from "wouter-preact";
import { fetchScripts } from "../engine/engine.ts";
import { jobsOf, useOrderState } from "../order/order-state.ts";
import { usePlan } from "../order/use-plan.ts";
import { type Model, ModelProvider, useModel, useModelAt } from "../shop/model.tsx";
import type { Base } from "../shop/shelf.ts";
import { useWords } from "../words/words.ts";
import { prepareFigures, useFigures } from "./figures.ts";
import { whenIdle } from "./idle.ts";
import { readSettings } from "./preferred.ts";
import { chunkMissing } from "./renewed.ts";
import { SettingsButton } from "./settings-dialog.tsx";
import { Failed, Notice } from "./states.tsx";

export const SHEETS = ["vehicle", "order", "ties", "timeline", "lift", "improve", "times"] as const;
export type SheetName = (typeof SHEETS)[number];
export const isSheet = (name: string | undefined): name is SheetName => SHEETS.includes(name as SheetName);

/** Each sheet is its own chunk. */
const CHUNKS: Readonly<Record<SheetName, () => Promise<ComponentType>>> = {
  vehicle: () => import("../vehicles/vehicle-sheet.tsx").then(({ VehicleSheet }) => VehicleSheet),
  order: () => import("../order/order-sheet.tsx").then(({ OrderSheet }) => OrderSheet),
  ties: () => import("../ties/ties-sheet.tsx").then(({ TiesSheet }) => TiesSheet),
  timeline: () => import("../timeline/timeline-sheet.tsx").then(({ TimelineSheet }) => TimelineSheet),
  lift: () => import("../lift/lift-sheet.tsx").then(({ LiftSheet }) => LiftSheet),
  improve: () => import("../improve/improve-sheet.tsx").then(({ ImproveSheet }) => ImproveSheet),
  times: () => import("../times/times-sheet.tsx").then(({ TimesSheet }) => TimesSheet),
};
const DRAWN = Object.fromEntries(
  SHEETS.map((name) => [name, lazy(() => CHUNKS[name]().catch(chunkMissing))]),
) as unknown as Readonly<Record<SheetName, ComponentType>>;

/** The others are fetched while nothing else is to do: from then on going to them needs no server. */
const fetchOthers = (): void => {
  whenIdle(() => {
    for (const name of SHEETS) CHUNKS[name]().catch(() => undefined);
    fetchScripts();
    prepareFigures(readSettings());
  });
};

/** What every page stands in: paper with a drawn edge, and whatever its bottom edge holds. */
export const Frame = ({
  children,
  block,
}: {
  readonly children: ComponentChildren;
  readonly block: ComponentChildren;
}) => {
  const words = useWords();
  return (
    <div class="frame">
      <a class="skip" href="#drawing">
        {words.sheet.skip}
      </a>
      <main id="drawing" tabIndex={-1}>
        {children}
      </main>
      {block}
    </div>
  );
};

const nameOf = (model: Model | undefined, base: Base): string => model?.reading.vehicle?.name ?? base.id;

const Heading = ({ base, model }: { readonly base: Base; readonly model?: Model }) => {
  const words = useWords();
  const state = model?.isDraft
    ? words.sheet.draft
    : base.from === "demo"
      ? words.sheet.demo
      : base.from === "mine"
        ? words.sheet.mine
        : model === undefined
          ? ""
          : base.from === "runs"
            ? words.sheet.run(base.id)
            : words.sheet.version(model.version);
  return (
    <div class="cell vehicle">
      <small>{words.sheet.vehicle}</small>
      <b>{nameOf(model, base)}</b>
      <small>{state}</small>
    </div>
  );
};

/** Labour and what comes off, wherever one is: the answer of the order in the address. */
const Answer = () => {
  const words = useWords();
  const figures = useFigures();
  const [state] = useOrderState();
  const { vehicle, release } = usePlan();
  const plan = release.data?.plan;
  const jobs = plan?.jobs.map(({ id }) => id) ?? (vehicle === undefined ? [] : jobsOf(state, vehicle));
  return (
    <>
      <div class="cell job">
        <small>{words.sheet.job}</small>
        <b>{jobs.map((id) => vehicle?.jobs.find((job) => job.id === id)?.label ?? id).join("; ") || "–"}</b>
      </div>
      <div class={release.isFetching ? "cell answer busy" : "cell answer"} aria-live="polite">
        <small>{words.sheet.labour}</small>
        <b>{plan === undefined ? "–" : figures.minutes(plan.figures.labour)}</b>
      </div>
    </>
  );
};

const Block = ({ base, sheet, model }: { readonly base: Base; readonly sheet: SheetName; readonly model?: Model }) => {
  const words = useWords();
  const search = useSearch();
  return (
    <footer class="title-block">
      <Link class="cell mark" href="/">
        <Mark />
        <b>
          {words.sheet.app}
          <span class="unseen">: {words.sheet.home}</span>
        </b>
      </Link>
      <Heading base={base} {...(model === undefined ? {} : { model })} />
      {model?.reading.vehicle === undefined ? <div class="cell job" /> : <Answer />}
      <nav class="cell" aria-label={words.sheet.nav}>
        {SHEETS.map((name, n) => (
          <Link
            key={name}
            href={`/${base.from}/${encodeURIComponent(base.id)}/${name}${queryOf(search)}`}
            aria-current={name === sheet ? "page" : undefined}
          >
            <small>{n + 1}</small>
            {words.sheet.sheets[name]}
          </Link>
        ))}
      </nav>
      <SettingsButton />
    </footer>
  );
};

/** Of the address only what is the order's goes along from sheet to sheet. */
const queryOf = (search: string): string => {
  const kept = new URLSearchParams(search);
  for (const name of [...kept.keys()]) if (!ORDER_KEYS.has(name)) kept.delete(name);
  const text = kept.toString();
  return text === "" ? "" : `?${text}`;
};
const ORDER_KEYS = new Set([
  "jobs",
  "keep",
  "take",
  "released",
  "without",
  "hoist",
  "crew",
  "begins",
  "pin",
  "version",
]);

export const Mark = () => (
  <svg class="mark" viewBox="0 0 32 32" aria-hidden="true">
    <circle cx="16" cy="16" r="7" />
    <path d="M16 9V1M23 16h8M16 23v8" />
    <path class="tied" d="M9 16H1" />
  </svg>
);

export const SheetAt = ({
  base,
  sheet,
  version,
}: {
  readonly base: Base;
  readonly sheet: SheetName;
  readonly version?: number;
}) => {
  const words = useWords();
  const state = useModelAt(base, version);
  const model = state.is === "ready" ? state.model : undefined;
  const name = nameOf(model, base);
  useEffect(() => {
    document.title = `${name}, ${words.sheet.sheets[sheet]} – ${words.sheet.app}`;
  }, [name, sheet, words]);
  useEffect(fetchOthers, []);
  const block =
    model === undefined ? (
      <Block base={base} sheet={sheet} />
    ) : (
      <ModelProvider model={model}>
        <Block base={base} sheet={sheet} model={model} />
      </ModelProvider>
    );
  return (
    <Frame block={block}>
      {state.is === "loading" ? (
        <p class="waiting busy">{words.sheet.reading}</p>
      ) : state.is === "missing" ? (
        <Notice what={words.sheet.missing(base.id)} mend={words.sheet.missingMend}>
          <Link class="button" href="/">
            {words.sheet.home}
          </Link>
        </Notice>
      ) : state.is === "failed" ? (
        <Failed error={state.error} again={state.again} />
      ) : (
        <ModelProvider model={state.model}>
          <Drawn sheet={sheet} base={base} />
        </ModelProvider>
      )}
    </Frame>
  );
};

/** False until the frame after a change: the title block answers the click, then the sheet is drawn. */
const useNextFrame = (of: string): boolean => {
  const [drawn, setDrawn] = useState(of);
  useEffect(() => {
    if (drawn === of) return;
    const frame = requestAnimationFrame(() => setTimeout(() => setDrawn(of)));
    return () => cancelAnimationFrame(frame);
  }, [drawn, of]);
  return drawn === of;
};

/** The sheet itself, where the model can bear it; the vehicle's own is there whatever the file is like, for it mends it. */
const Drawn = ({ sheet, base }: { readonly sheet: SheetName; readonly base: Base }) => {
  const words = useWords();
  const { reading } = useModel();
  const Sheet = DRAWN[sheet];
  const isNext = useNextFrame(sheet);
  const path = `/${base.from}/${encodeURIComponent(base.id)}/vehicle`;
  if (sheet !== "vehicle" && reading.vehicle === undefined)
    return (
      <Notice what={words.sheet.faults(reading.faults.length)} mend="">
        <Link class="button" href={path}>
          {words.sheet.toFaults}
        </Link>
      </Notice>
    );
  if (sheet !== "vehicle" && reading.vehicle?.jobs.length === 0)
    return (
      <Notice what={words.sheet.noJobs} mend={words.sheet.noJobsMend}>
        <Link class="button" href={path}>
          {words.sheet.sheets.vehicle}
        </Link>
      </Notice>
    );
  if (!isNext) return <p class="waiting busy">{words.sheet.computing}</p>;
  return (
    <Suspense fallback={<p class="waiting busy">{words.sheet.computing}</p>}>
      <Sheet />
    </Suspense>
  );
};

// Owns the sheet of ties: the chart, the count of what still holds, the steps of the plan one by one, and the same as a list.

import { useCallback, useEffect, useMemo, useRef } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import type { Plan } from "../../plan/index.ts";
import { KINDS, type Vehicle } from "../../vehicle/index.ts";
import { NoPlanYet } from "../order/no-plan.tsx";
import { usePlan } from "../order/use-plan.ts";
import { RunStrip } from "../runs/run-strip.tsx";
import { standingOf } from "../runs/standing.ts";
import { Help } from "../sheet/help.tsx";
import { useModel } from "../shop/model.tsx";
import { useRun } from "../shop/runs.ts";
import { useWords } from "../words/words.ts";
import { Chart, Legend, tieAt } from "./chart.tsx";
import { TieDetail } from "./detail.tsx";
import { layOut } from "./layout.ts";
import { TieList } from "./list.tsx";
import { usePan } from "./pan.ts";
import { aloftBetween, assembliesOf, heldBy, releasedAfter, type Scene, sceneOf } from "./scene.ts";
import { drawnWidth, useSize } from "./size.ts";
import { Stepper } from "./stepper.tsx";

export const TiesSheet = () => {
  const { vehicle, release } = usePlan();
  const plan = release.data?.plan;
  if (vehicle === undefined || plan === undefined) return <NoPlanYet release={release} />;
  return <Ties vehicle={vehicle} plan={plan} isBehind={release.isPlaceholderData} />;
};

/** What of the page one looks at is in its address as well, but is no step back. */
const useLook = () => {
  const search = useSearch();
  const [path, navigate] = useLocation();
  const given = useMemo(() => new URLSearchParams(search), [search]);
  const here = useRef({ path, navigate });
  here.current = { path, navigate };
  // One function for as long as the sheet is there, so that rows and lines are not drawn anew for its sake.
  const look = useCallback((part: Readonly<Record<string, string | undefined>>) => {
    // The address itself: of two keys in one breath the second finds what the first made of it.
    const next = new URLSearchParams(location.search);
    for (const [name, value] of Object.entries(part))
      if (value === undefined || value === "") next.delete(name);
      else next.set(name, value);
    here.current.navigate(`${here.current.path}?${next}`, { replace: true });
  }, []);
  return [given, look] as const;
};

/** How many steps of the plan are over: all before the next one. */
const stepReached = (scene: Scene, next: number | undefined): number =>
  next === undefined
    ? scene.steps.length
    : Math.max(
        0,
        scene.steps.findIndex(({ number }) => number === next),
      );

const Ties = ({
  vehicle,
  plan,
  isBehind,
}: {
  readonly vehicle: Vehicle;
  readonly plan: Plan;
  readonly isBehind: boolean;
}) => {
  const words = useWords();
  const [given, look] = useLook();
  const assemblies = useMemo(() => assembliesOf(vehicle, plan), [vehicle, plan]);
  const assembly = assemblies.find(({ id }) => id === given.get("free")) ?? assemblies[0];
  const scene = useMemo(
    () => (assembly === undefined ? undefined : sceneOf(vehicle, plan, assembly)),
    [vehicle, plan, assembly],
  );
  const frame = useRef<HTMLDivElement>(null);
  const drawing = useRef<HTMLDivElement>(null);
  const [wide, high] = useSize(frame);
  const choose = useCallback((id: string | undefined) => look({ tie: id }), [look]);
  const { view, nearer, farther, whole } = usePan(frame, drawing, (target) => {
    if (target.closest("svg") !== null) choose(tieAt(target));
  });
  const width = drawnWidth(wide);
  const layout = useMemo(
    () =>
      scene === undefined ? undefined : layOut(vehicle, scene, width, high / Math.max(1, wide), words.ties.anywhere),
    [vehicle, scene, width, high, wide, words],
  );

  const count = scene?.steps.length ?? 0;
  const { run: ofRun } = useModel();
  const run = useRun(ofRun?.id);
  /** A run is shown as it stands, until somebody goes through the plan. */
  const isLive = run !== undefined && !given.has("step");
  const reached = run === undefined || scene === undefined ? 0 : stepReached(scene, run.next[0]?.number);
  const step = isLive ? reached : Math.min(count, Math.max(0, Number(given.get("step") ?? 0) || 0));
  const toStep = useCallback(
    // Of a run the beginning is a step too: without one it is shown as it stands.
    (to: number) => look({ step: to <= 0 ? (ofRun === undefined ? undefined : "0") : String(Math.min(count, to)) }),
    [look, count, ofRun],
  );
  const onBy = useCallback(
    (steps: number) => {
      const now = new URLSearchParams(location.search).get("step");
      toStep((now === null ? reached : Number(now) || 0) + steps);
    },
    [toStep, reached],
  );
  const held = useMemo(() => {
    if (scene === undefined) return undefined;
    if (!isLive || run === undefined) return heldBy(vehicle, scene, releasedAfter(scene, plan, step));
    const { released, verified, faulty } = standingOf(run);
    return heldBy(vehicle, scene, new Set([...plan.releasedBefore, ...released]), verified, faulty);
  }, [vehicle, scene, plan, step, isLive, run]);
  const aloft = useMemo(() => (scene === undefined ? undefined : aloftBetween(scene)), [scene]);

  const position = given.get("at") ?? "";
  const query = given.get("find") ?? "";
  const found = useMemo(() => {
    if (scene === undefined || (position === "" && query === "")) return undefined;
    const text = query.toLocaleLowerCase();
    return new Set(
      scene.ties
        .filter(
          (tie) =>
            (position === "" || tie.position === position) &&
            (text === "" || `${tie.label} ${tie.id} ${words.kinds[tie.kind]}`.toLocaleLowerCase().includes(text)),
        )
        .map(({ id }) => id),
    );
  }, [scene, position, query, words]);

  const chosen = given.get("tie") ?? undefined;

  useEffect(() => {
    const keys = (event: KeyboardEvent) => {
      const target = event.target as HTMLElement;
      if (event.altKey || event.ctrlKey || event.metaKey || target.closest("input, select, textarea, dialog") !== null)
        return;
      const acts: Readonly<Record<string, () => void>> = {
        ArrowRight: () => onBy(1),
        ArrowLeft: () => onBy(-1),
        Home: () => toStep(0),
        End: () => toStep(count),
        "+": nearer,
        "-": farther,
        "0": whole,
        Escape: () => choose(undefined),
      };
      const act = acts[event.key];
      if (act === undefined) return;
      event.preventDefault();
      act();
    };
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, [count, toStep, onBy, nearer, farther, whole, choose]);

  if (scene === undefined || assembly === undefined || layout === undefined || held === undefined)
    return <p class="waiting">{words.ties.nothing}</p>;
  const current = step === 0 || isLive ? undefined : scene.steps[step - 1];
  const isAloft = aloft !== undefined && step >= aloft[0] && step < aloft[1];
  const searched = vehicle.connections.length - [...held.standing.values()].filter((one) => one === "loose").length;
  const used = KINDS.filter((kind) => scene.ties.some((tie) => tie.kind === kind));
  return (
    <div class={isBehind ? "ties busy" : "ties"}>
      <section class="picture" aria-label={words.ties.chart}>
        <div class="frame-of-chart" ref={frame}>
          <div class="drawing" ref={drawing}>
            <Chart
              layout={layout}
              standing={held.standing}
              {...(current === undefined ? {} : { now: current.id })}
              {...(chosen === undefined ? {} : { chosen })}
              {...(found === undefined ? {} : { found })}
              isAloft={isAloft}
              label={words.ties.pictureOf(assembly.label, held.count, scene.ties.length)}
              enlarged={view.scale * (wide / width)}
            />
          </div>
          <div class="nearness">
            <button type="button" onClick={nearer} aria-label={words.ties.nearer}>
              +
            </button>
            <button type="button" onClick={farther} aria-label={words.ties.farther} disabled={view.scale === 1}>
              −
            </button>
            <button type="button" onClick={whole} disabled={view.scale === 1}>
              {words.ties.whole}
            </button>
          </div>
        </div>
        {ofRun === undefined || run === undefined ? null : isLive ? (
          <RunStrip run={run} />
        ) : (
          <p class="run-strip">
            {words.runs.atPlan}{" "}
            <button type="button" class="plain" onClick={() => look({ step: undefined })}>
              {words.runs.asItStands}
            </button>
          </p>
        )}
        <Stepper scene={scene} step={step} aloft={aloft} isLive={isLive} onStep={toStep} />
      </section>
      <aside class="beside">
        <div class={held.count === 0 ? "tally free" : "tally"} aria-live="polite">
          <b>{held.count}</b>
          <p>
            {held.free ? words.ties.free(searched) : words.ties.still(held.count)}
            {!held.free && held.chain.length > 0 ? (
              <small class="soft">{held.chain.map((id) => plan.labels[id] ?? id).join(" – ")}</small>
            ) : null}
          </p>
        </div>
        {assemblies.length < 2 ? null : (
          <label class="field">
            <span>{words.ties.whatComesFree}</span>
            <select
              value={assembly.id}
              onChange={({ currentTarget }) => look({ free: currentTarget.value, tie: undefined })}
            >
              {assemblies.map(({ id, label, isLift }) => (
                <option key={id} value={id}>
                  {isLift ? words.ties.lifted(label) : label}
                </option>
              ))}
            </select>
          </label>
        )}
        {chosen === undefined || !scene.ties.some(({ id }) => id === chosen) ? null : (
          <TieDetail
            scene={scene}
            plan={plan}
            tie={scene.ties.find(({ id }) => id === chosen)!}
            standing={held.standing.get(chosen) ?? "slack"}
            onClose={() => choose(undefined)}
            onStep={toStep}
          />
        )}
        <div class="looking">
          <label class="field">
            <span>{words.ties.find}</span>
            <input type="search" value={query} onInput={({ currentTarget }) => look({ find: currentTarget.value })} />
          </label>
          <label class="field">
            <span>{words.ties.at}</span>
            <select value={position} onChange={({ currentTarget }) => look({ at: currentTarget.value })}>
              <option value="">{words.ties.everywhere}</option>
              {scene.positions.map(({ id, label }) => (
                <option key={id} value={id}>
                  {label}
                </option>
              ))}
            </select>
          </label>
        </div>
        <TieList
          scene={scene}
          standing={held.standing}
          found={found}
          {...(chosen === undefined ? {} : { chosen })}
          onChoose={choose}
        />
        <details class="key">
          <summary>{words.ties.legend}</summary>
          <Legend kinds={used} />
        </details>
        <Help title={words.ties.help.title}>{words.ties.help.text}</Help>
      </aside>
    </div>
  );
};

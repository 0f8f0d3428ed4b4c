// Owns the part of the sheet that takes runs and shows what they taught: each step before and after, what is common to things, lines that were left out.

import { scaleLinear } from "d3-scale";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Learnt } from "../../plan/index.ts";
import { DEFAULT_SPREAD, fromMedian, type RunFault } from "../../times/index.ts";
import type { GivenFile } from "../engine/times-asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { Failed } from "../sheet/states.tsx";
import { useModel } from "../shop/model.tsx";
import { useDropped } from "../start/dropped.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { Help } from "./help.tsx";
import { Interval } from "./interval.tsx";
import { MarksHead } from "./marks-head.tsx";
import { rangeOf } from "./spans.ts";
import { DEMO_RUNS, type RunsGiven } from "./use-runs.ts";
import { useWidth } from "./use-width.ts";

const RUNS = /\.(jsonl|ndjson)$/i;
const ROW = 40;
/** Faulty lines that are listed. */
const LISTED = 20;

const textsOf = (files: readonly File[]): Promise<readonly GivenFile[]> =>
  Promise.all(files.map(async (file) => ({ path: file.name, text: await file.text() })));

export const RunsSection = ({ runs }: { readonly runs: RunsGiven }) => {
  const words = useWords();
  const { base } = useModel();
  const input = useRef<HTMLInputElement>(null);
  const { files, give, learn } = runs;
  const take = async (given: readonly File[]) => give(await textsOf(given));
  useDropped(RUNS, take);
  const [failed, setFailed] = useState<Error>();
  const demo = base.from === "demo" ? DEMO_RUNS[base.id] : undefined;
  const takeDemo = async (path: string) => {
    try {
      const answer = await fetch(`/app/demo/${path}`);
      if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
      give([{ path, text: await answer.text() }]);
      setFailed(undefined);
    } catch (error) {
      setFailed(error instanceof Error ? error : new Error(String(error)));
    }
  };
  const said = files.length === 0 ? undefined : learn.data;
  return (
    <section class="runs" aria-labelledby="runs">
      <h2 id="runs">{words.times.runs}</h2>
      <p class="soft">{words.times.runsLead}</p>
      <p class="tools">
        <button type="button" onClick={() => input.current?.click()}>
          {words.times.choose}
        </button>
        <input
          ref={input}
          class="unseen"
          type="file"
          multiple
          accept=".jsonl,.ndjson"
          aria-label={words.times.choose}
          tabIndex={-1}
          onChange={({ currentTarget }) => {
            void take([...(currentTarget.files ?? [])]);
            currentTarget.value = "";
          }}
        />
        {demo === undefined ? null : (
          <button type="button" onClick={() => void takeDemo(demo)}>
            {words.times.takeDemo}
          </button>
        )}
        {files.length === 0 ? (
          <small class="soft">{words.times.drop}</small>
        ) : (
          <>
            <small>{files.map(({ path }) => path).join(", ")}</small>
            <button type="button" class="plain" onClick={() => give([])}>
              {words.times.forget}
            </button>
          </>
        )}
      </p>
      {failed === undefined ? null : <Failed error={failed} />}
      {learn.isError ? <Failed error={learn.error ?? new Error("?")} again={() => void learn.refetch()} /> : null}
      {files.length > 0 && learn.isFetching ? <p class="busy">{words.times.learning}</p> : null}
      {said === undefined ? null : (
        <>
          <Faults faults={said.faults} />
          {said.learnt === undefined ? <p class="notice">{words.times.noTimes}</p> : <Taught learnt={said.learnt} />}
        </>
      )}
      <Help title={words.times.helpLearn}>{words.times.helpLearnText}</Help>
    </section>
  );
};

const Faults = ({ faults }: { readonly faults: readonly RunFault[] }) => {
  const words = useWords();
  if (faults.length === 0) return null;
  return (
    <div class="notice" role="alert">
      <p>
        <b>{words.times.faulty(new Set(faults.map(({ file, line }) => `${file}:${line}`)).size)}</b>
      </p>
      <ul>
        {faults.slice(0, LISTED).map(({ file, line, what, mend }) => (
          <li key={`${file}:${line} ${what}`}>
            <b>{words.times.line(file, line)}</b>: {what}. <span class="soft">{mend}</span>
          </li>
        ))}
      </ul>
      {faults.length > LISTED ? <p class="small">{words.times.moreFaults(faults.length - LISTED)}</p> : null}
    </div>
  );
};

const Taught = ({ learnt }: { readonly learnt: Learnt }) => {
  const words = useWords();
  const figures = useFigures();
  const { place, width } = useWidth(420);
  const head = useRef<HTMLParagraphElement>(null);
  // Who chose a file hears first what came of it.
  useEffect(() => head.current?.scrollIntoView({ block: "nearest" }), []);
  const seen = learnt.times.filter((one) => one.seen > 0);
  const rows = seen.map((one) => ({
    ...one,
    before: fromMedian(one.file, DEFAULT_SPREAD),
    after: { centre: one.centre, spread: one.spread },
  }));
  const most = Math.max(1, ...rows.flatMap(({ before, after }) => [rangeOf(before)[1], rangeOf(after)[1]]));
  const x = scaleLinear([0, most], [4, width - 4]).clamp(true);
  return (
    <>
      <p ref={head} role="status">
        {words.times.learnt(learnt.runs, learnt.broken)}
      </p>
      <table class="span-list">
        <thead>
          <tr>
            <th scope="col">{words.times.connection}</th>
            <MarksHead names={[words.times.before, words.times.after]} x={x} width={width} place={place} />
            <th scope="col">
              {words.times.before} → {words.times.after}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ step, label, seen: times, file, p50, before, after }) => (
            <tr key={step}>
              <th scope="row">
                {label}
                <small class="soft">
                  {step.startsWith("back:") ? words.times.refit : words.times.release}, {words.times.seen(times)}
                </small>
              </th>
              <td class="marks">
                <svg width={width} height={ROW} aria-hidden="true">
                  <Interval time={before} x={x} y={ROW * 0.3} kind="before" />
                  <Interval time={after} x={x} y={ROW * 0.7} kind="taught" />
                  <path class="moved" d={`M${x(file)} ${ROW * 0.3 + 3}L${x(p50)} ${ROW * 0.7 - 3}`} />
                </svg>
              </td>
              <td>
                {words.times.change(figures.minutes(file), figures.minutes(p50))}
                <small class="soft">
                  {words.times.range(
                    figures.minutes(p50),
                    figures.number(rangeOf(after)[0], 1),
                    figures.number(rangeOf(after)[1], 1),
                  )}
                </small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small soft">{words.times.more(learnt.times.length - seen.length)}</p>
      <Common learnt={learnt} />
    </>
  );
};

/** What an effect is of: a kind of the file in the page's words, its refit said so. */
const effectName = (group: string, name: string, { kinds, times }: Words): string => {
  if (group !== "kind") return name;
  const kind = name.replace(/, back$/, "");
  const called = kinds[kind as keyof typeof kinds] ?? kind;
  return kind === name ? called : `${called}, ${times.back}`;
};

/** What things have in common, what came between, what is odd, where to look first. */
const Common = ({ learnt }: { readonly learnt: Learnt }) => {
  const words = useWords();
  const figures = useFigures();
  const { vehicle } = useModel().reading;
  const labels = new Map(vehicle?.connections.map(({ id, label }) => [id, label] as const));
  const ends = learnt.effects.flatMap(({ low, high }) => [low, high]);
  const x = scaleLinear([Math.min(0.9, ...ends), Math.max(1.1, ...ends)], [1, 99]);
  const times = (value: number) => `× ${figures.number(value, 2)}`;
  const looks = learnt.looks.slice(0, 5);
  return (
    <div class="waits">
      <section>
        <h3>{words.times.effects}</h3>
        <p class="small soft">{words.times.effectsLead}</p>
        <ul class="lines">
          {learnt.effects.map(({ group, name, times: by, low, high, seen }) => (
            <li key={`${group} ${name}`}>
              <span>
                {words.times.groups[group as keyof typeof words.times.groups]} {effectName(group, name, words)}
                <small class="soft"> {words.times.seen(seen)}</small>
              </span>
              <svg class="line" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
                <path class="base" d={`M${x(1)} 0V12`} />
                <path class="value" d={`M${x(low)} 6H${x(high)}`} />
                <path class="end" d={`M${x(by)} 1V11`} />
              </svg>
              <span class="number">
                {times(by)} <small class="soft">{`${figures.number(low, 2)}–${figures.number(high, 2)}`}</small>
              </span>
            </li>
          ))}
        </ul>
      </section>
      <section>
        {learnt.causes.length === 0 ? null : (
          <>
            <h3>{words.times.causes}</h3>
            <p class="small soft">{words.times.causesLead}</p>
            <ul>
              {learnt.causes.map(({ cause, came, of, minutes, p50 }) => (
                <li key={cause}>
                  <b>{cause}</b>: {words.times.cause(came, of, figures.minutes(minutes), figures.minutes(p50))}
                </li>
              ))}
            </ul>
          </>
        )}
        {learnt.odd.length === 0 ? null : (
          <>
            <h3>{words.times.odd}</h3>
            <p class="small soft">{words.times.oddLead}</p>
            <ul>
              {learnt.odd.map(({ file, line, step, minutes }) => (
                <li key={`${file}:${line}`}>
                  {words.times.line(file, line)}: {labels.get(step.replace(/^back:/, "")) ?? step},{" "}
                  {figures.minutes(minutes)}
                </li>
              ))}
            </ul>
          </>
        )}
        {looks.length === 0 ? null : (
          <>
            <h3>{words.times.looksFirst}</h3>
            <p class="small soft">{words.times.looksLead}</p>
            <ul class="lines">
              {looks.map(({ connection, chance }) => (
                <li key={connection}>
                  <span>{labels.get(connection) ?? connection}</span>
                  <svg class="line" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
                    <path class="base" d="M1 6H99" />
                    <path class="value" d={`M1 6H${1 + (98 * chance) / (looks[0]?.chance ?? 1)}`} />
                  </svg>
                  <span class="number">{figures.percent(chance, 1)}</span>
                </li>
              ))}
            </ul>
          </>
        )}
      </section>
    </div>
  );
};

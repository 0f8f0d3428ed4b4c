// Owns the board on the wall: every run under way, how far it is, when it is done, what blocks it; read from across the shed.

import { useEffect } from "preact/hooks";
import { Link } from "wouter-preact";
import { handPath } from "../hand/address.ts";
import { useFigures } from "../sheet/figures.ts";
import { sayRefusal } from "../sheet/refused.tsx";
import { useSettings } from "../sheet/settings.ts";
import { Notice } from "../sheet/states.tsx";
import { Refusal } from "../shop/calls.ts";
import { useDoor } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { blocksOf } from "./blocks.ts";
import { useFinish } from "./finish.ts";
import { Many } from "./many.tsx";
import { type OnBoard, useNews, useOnBoard } from "./news.ts";

/** Runs that are shown large; nobody scrolls a wall, so of more each gets a line, and the lines turn page by page. */
const LARGE = 4;
const FEW = 2;
const DARK = "(prefers-color-scheme: dark)";

export const Board = () => {
  const words = useWords();
  const figures = useFigures();
  const { settings, change } = useSettings();
  const isDark = settings.light === "night" || (settings.light === "auto" && matchMedia(DARK).matches);
  const door = useDoor();
  const { runs, away, isLoading } = useNews();
  // Nobody being signed in ends the stream too: that is no lost line.
  const isNobody = door.data?.signedIn === false;
  const isMany = runs.length > LARGE;
  useEffect(() => {
    document.title = words.board.title;
  }, [words]);
  return (
    <main class={isMany ? "board whole" : runs.length <= FEW ? "board few" : "board"}>
      <header>
        <h1>{words.board.title}</h1>
        <button type="button" onClick={() => change({ light: isDark ? "day" : "night" })}>
          {isDark ? words.board.light : words.board.dark}
        </button>
      </header>
      {away === undefined || isNobody ? null : (
        <p class="notice" role="status">
          {runs.length === 0 ? words.door.needsServer : words.board.away(figures.time(away))}
        </p>
      )}
      {isNobody ? (
        <Notice what={words.people.signInFirst} mend="">
          <Link class="button main" href="/sign-in?to=/board">
            {words.sheet.signIn}
          </Link>
        </Notice>
      ) : isLoading && away === undefined ? (
        <p class="waiting busy">{words.door.moment}</p>
      ) : runs.length === 0 && away === undefined ? (
        <Notice what={words.board.none} mend={words.board.noneMend} />
      ) : isMany ? (
        <Many runs={runs} />
      ) : (
        <ul>
          {runs.map((run) => (
            <OneRun key={run} run={run} />
          ))}
        </ul>
      )}
      {isMany ? null : <p class="how">{words.board.how}</p>}
    </main>
  );
};

const OneRun = ({ run }: { readonly run: string }) => {
  const words = useWords();
  const found = useOnBoard(run);
  return (
    <li>
      <h2>
        <Link href={handPath(run, "next")}>{run}</Link>
        <small>{found.data?.standing.vehicle}</small>
      </h2>
      {found.data === undefined ? (
        <p class="busy">
          {found.error === null
            ? words.door.moment
            : found.error instanceof Refusal
              ? sayRefusal(words, found.error).what
              : words.sheet.failed}
        </p>
      ) : (
        <Stands run={run} on={found.data} />
      )}
    </li>
  );
};

const Stands = ({ run, on }: { readonly run: string; readonly on: OnBoard }) => {
  const words = useWords();
  const figures = useFigures();
  const { standing } = on;
  const { planned, apart, back, labour, left } = standing;
  const finish = useFinish(run, { labour, left });
  const { contradictions, findings, gate } = blocksOf(on);
  const first = gate?.missing[0];
  const [next] = standing.next;
  return (
    <>
      {planned === 0 ? null : (
        <div class="shares">
          <Share of={apart / planned} name={words.board.loose} />
          <Share of={back / planned} name={words.board.made} />
        </div>
      )}
      <p class="finish">
        {finish === undefined
          ? words.board.reckoning
          : words.board.done(figures.time(finish.half), figures.time(finish.most))}
        <small>{words.board.left(figures.minutes(left))}</small>
      </p>
      {contradictions + findings === 0 && gate === undefined ? (
        <p>{words.board.nothing}</p>
      ) : (
        <ul class="blocks" aria-label={words.board.blocks}>
          {contradictions === 0 ? null : <li>{words.board.contradiction(contradictions)}</li>}
          {findings === 0 ? null : <li>{words.board.finding(findings)}</li>}
          {gate === undefined || first === undefined ? null : (
            <li>
              {words.board.gate(words.gates.names[gate.gate], gate.missing.length, first.label)}
              {first.where === undefined ? "" : `, ${first.where.label}`}
            </li>
          )}
        </ul>
      )}
      {next === undefined ? null : (
        <p class="next">
          {words.board.next}: {next.label}
          {next.position === undefined ? "" : `, ${next.position}`}
        </p>
      )}
    </>
  );
};

/** A share as a figure and as ink along a line. */
const Share = ({ of, name }: { readonly of: number; readonly name: string }) => {
  const figures = useFigures();
  return (
    <p class="share">
      <b>{figures.percent(of)}</b> {name}
      <svg viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true">
        <rect class="whole" width="100" height="4" />
        <rect class="part" width={100 * of} height="4" />
      </svg>
    </p>
  );
};

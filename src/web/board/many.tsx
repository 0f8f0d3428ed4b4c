// Owns many runs on the board: a line of each, as large as a few are, in pages that turn.

import { useRef } from "preact/hooks";
import { Link } from "wouter-preact";
import { handPath } from "../hand/address.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { blocksOf } from "./blocks.ts";
import { useFinish } from "./finish.ts";
import { type OnBoard, useOnBoard } from "./news.ts";
import { LINE, useLines, usePages } from "./pages.ts";

export const Many = ({ runs }: { readonly runs: readonly string[] }) => {
  const words = useWords();
  const list = useRef<HTMLUListElement>(null);
  const lines = useLines(list) ?? runs.length;
  const count = Math.ceil(runs.length / lines);
  const { page, isTurning, turn, toggle } = usePages(count, list);
  const heads = [words.board.loose, words.board.made, words.board.half, words.board.most];
  return (
    <>
      <p class="line heads" aria-hidden="true">
        <span />
        {heads.map((head) => (
          <span key={head}>{head}</span>
        ))}
      </p>
      <ul class="many" ref={list} style={{ "--rows": Math.min(lines, runs.length), "--line": `${LINE}em` }}>
        {runs.slice(page * lines, (page + 1) * lines).map((run) => (
          <Line key={run} run={run} />
        ))}
      </ul>
      <footer>
        {count < 2 ? null : (
          <nav class="turning" aria-label={words.board.pages}>
            <button type="button" aria-label={words.board.back} onClick={() => turn(-1)}>
              ←
            </button>
            <b>{words.board.page(page + 1, count)}</b>
            <button type="button" aria-label={words.board.on} onClick={() => turn(1)}>
              →
            </button>
            <button type="button" onClick={toggle}>
              {isTurning ? words.board.stop : words.board.goOn}
            </button>
          </nav>
        )}
        <p class="how">{words.board.how}</p>
      </footer>
      {/* What is on another page is worked out too, so that it is there when the page turns. */}
      {runs.map((run) => (
        <Ahead key={run} run={run} />
      ))}
    </>
  );
};

const Ahead = ({ run }: { readonly run: string }) => {
  const found = useOnBoard(run);
  useFinish(run, found.data?.standing ?? NO_LABOUR, true);
  return null;
};

const NO_LABOUR = { labour: 0, left: 0 };

const Line = ({ run }: { readonly run: string }) => {
  const words = useWords();
  const figures = useFigures();
  const { data, error } = useOnBoard(run);
  const standing = data?.standing;
  const finish = useFinish(run, standing ?? NO_LABOUR, true);
  const share = (of: number, name: string) => (
    <span class="share">
      {standing === undefined || standing.planned === 0 ? "–" : figures.percent(of / standing.planned)}
      <span class="unseen"> {name}</span>
    </span>
  );
  const time = (at: number | undefined, name: string) => (
    <span class="time">
      <span class="unseen">{name} </span>
      {at === undefined ? "…" : figures.time(at)}
    </span>
  );
  return (
    <li class="line">
      <h2>
        <Link href={handPath(run, "next")}>{run}</Link>
      </h2>
      {share(standing?.apart ?? 0, words.board.loose)}
      {share(standing?.back ?? 0, words.board.made)}
      {time(finish?.half, words.board.half)}
      {time(finish?.most, words.board.most)}
      <small>{standing?.vehicle}</small>
      {data === undefined ? <p>{error === null ? words.door.moment : words.sheet.failed}</p> : <Blocks on={data} />}
    </li>
  );
};

/** In one line: what contradicts itself and what was found stand before the gate that is ahead. */
const Blocks = ({ on }: { readonly on: OnBoard }) => {
  const words = useWords();
  const { contradictions, findings, gate } = blocksOf(on);
  const first = gate?.missing[0];
  const all = [
    ...(contradictions === 0 ? [] : [words.board.contradiction(contradictions)]),
    ...(findings === 0 ? [] : [words.board.finding(findings)]),
    ...(gate === undefined || first === undefined
      ? []
      : [words.board.gate(words.gates.names[gate.gate], gate.missing.length, first.label)]),
  ];
  return <p class={all.length === 0 ? "soft" : "blocked"}>{all.length === 0 ? words.board.nothing : all.join("; ")}</p>;
};

// Owns the list of runs in hand: those of one's sites, and those that the device has with it, also where there is no line.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useEffect } from "preact/hooks";
import { Link } from "wouter-preact";
import { useHands } from "../device/hands.ts";
import { leaveBehind, takeAlong, takenAlong } from "../device/taking.ts";
import { useOrders } from "../shop/runs.ts";
import { useWords } from "../words/words.ts";
import { HAND, handPath } from "./address.ts";

export const HandList = () => {
  const words = useWords();
  const hands = useHands();
  const queries = useQueryClient();
  const orders = useOrders();
  const kept = useQuery({ queryKey: ["taken-along"], queryFn: takenAlong, staleTime: 0, networkMode: "always" });
  useEffect(() => {
    document.title = words.hand.title;
  }, [words]);
  const running = (orders.data ?? []).filter(({ state }) => state === "running");
  const names = [...new Set([...running.map(({ order }) => order), ...(kept.data ?? []).map(({ run }) => run)])];
  const has = new Set((kept.data ?? []).map(({ run }) => run));
  // What is under way comes onto the device while there is a line, for the hour in which there is none.
  const missing = running.map(({ order }) => order).filter((run) => !has.has(run));
  const wanted = kept.data === undefined ? "" : missing.join("\n");
  useEffect(() => {
    let isOver = false;
    const take = async () => {
      for (const run of wanted.split("\n").filter((one) => one !== "")) {
        if (isOver) return;
        try {
          (await takeAlong(run)).close();
          await queries.invalidateQueries({ queryKey: ["taken-along"] });
        } catch {
          // It is fetched when it is opened.
        }
      }
    };
    void take();
    return () => {
      isOver = true;
    };
  }, [wanted, queries]);
  const remove = async (run: string) => {
    if (await leaveBehind(run)) await queries.invalidateQueries({ queryKey: ["taken-along"] });
  };
  const vehicleOf = (run: string) =>
    running.find(({ order }) => order === run)?.vehicle ?? kept.data?.find((one) => one.run === run)?.vehicle ?? "";
  return (
    <div class="work">
      <header>
        <Link href="/" class="run">
          <b>{words.hand.title}</b>
          <small>{hands.paired?.name ?? words.sheet.app}</small>
        </Link>
        <Link class="button" href={`/sign-in?to=${HAND}`}>
          {hands.me === undefined ? words.sheet.signIn : <b>{hands.me.name}</b>}
        </Link>
      </header>
      <main id="drawing" tabIndex={-1}>
        <div class="work-list">
          {hands.me === undefined && !hands.isLoading ? <p class="notice">{words.hand.nobody}</p> : null}
          {hands.me !== undefined && names.length === 0 && !orders.isLoading && !kept.isLoading ? (
            <>
              <p class="large">{words.hand.none}</p>
              <p>{words.hand.noneMend}</p>
            </>
          ) : null}
          <ul class="targets">
            {names.map((run) => (
              <li key={run}>
                <Link class="button" href={handPath(run, "next")}>
                  <b>{run}</b>
                  <small>{has.has(run) ? words.hand.kept : words.hand.notKept}</small>
                  <span>{vehicleOf(run)}</span>
                </Link>
                {has.has(run) && !running.some(({ order }) => order === run) && orders.data !== undefined ? (
                  <button type="button" class="plain" onClick={() => void remove(run)}>
                    {words.hand.leaveBehind(run)}
                  </button>
                ) : null}
              </li>
            ))}
          </ul>
        </div>
      </main>
    </div>
  );
};

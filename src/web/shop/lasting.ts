// Owns answers that take long: they go on while another sheet is looked at, tell what is known so far, and end when they are told to or something newer takes their place.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useCallback, useRef } from "preact/hooks";
import type { AskedOf, Kind, SaidOf } from "../engine/asked.ts";
import { ask, numberOf } from "../engine/engine.ts";
import { useModel } from "./model.tsx";

/** Told to stop, with nothing known yet. */
export class Stopped extends Error {
  override readonly name = "Stopped";
}

/** The reason of an end that the one who waits asked for. */
const STOP = new Stopped("it was stopped");

export interface Lasting<T> {
  /** The answer; while it is computed what is known so far, or the answer before. */
  readonly data: T | undefined;
  readonly error: Error | null;
  readonly isComputing: boolean;
  /** `data` is of a question before. */
  readonly isBefore: boolean;
  /** It was ended before it was done: `data` is what was known by then. */
  readonly isStopped: boolean;
  readonly stop: () => void;
  readonly again: () => void;
}

interface UnderWay {
  readonly key: string;
  readonly control: AbortController;
}

/** What is computed in each slot: a newer question of the same slot ends it. */
const underWay = new Map<string, UnderWay>();

interface Ended<T> {
  readonly said: T;
  readonly stopped: boolean;
}

/**
 * Asks the engine about the model around, whoever looks on.
 * @param slot of questions of which only the newest is computed
 */
export const useLasting = <K extends Kind>(
  kind: K,
  body: AskedOf[K] | undefined,
  slot: string = kind,
): Lasting<SaidOf[K]> => {
  const { files, reading } = useModel();
  const queries = useQueryClient();
  const enabled = reading.vehicle !== undefined && body !== undefined;
  const key = `${numberOf(files)} ${kind} ${JSON.stringify(body)}`;
  const soFarKey = ["engine", "so far", key];
  const found = useQuery<Ended<SaidOf[K]>>({
    queryKey: ["engine", key],
    queryFn: async () => {
      const before = underWay.get(slot);
      const control = new AbortController();
      underWay.set(slot, { key, control });
      if (before !== undefined && before.key !== key) before.control.abort(new Stopped("something newer was asked"));
      let known: SaidOf[K] | undefined;
      try {
        const said = await ask(kind, files, body as AskedOf[K], control.signal, (soFar) => {
          known = soFar;
          queries.setQueryData(soFarKey, soFar);
        });
        return { said, stopped: false };
      } catch (error) {
        // Ended by the one who waits it ends with what there is.
        if (error === STOP && known !== undefined) return { said: known, stopped: true };
        throw error;
      } finally {
        if (underWay.get(slot)?.control === control) underWay.delete(slot);
        queries.removeQueries({ queryKey: soFarKey });
      }
    },
    enabled,
    staleTime: Number.POSITIVE_INFINITY,
    retry: false,
    networkMode: "always",
    structuralSharing: false,
  });
  const soFar = useQuery<SaidOf[K]>({ queryKey: soFarKey, enabled: false, structuralSharing: false });
  const { refetch } = found;
  const stop = useCallback(() => {
    if (underWay.get(slot)?.key === key) underWay.get(slot)?.control.abort(STOP);
  }, [slot, key]);
  const again = useCallback(() => void refetch(), [refetch]);
  const isComputing = enabled && found.isFetching;
  const known = isComputing ? soFar.data : found.data?.said;
  // The answer before stays, even one that was ended for this question before it was whole.
  const before = useRef<SaidOf[K]>();
  if (known !== undefined) before.current = known;
  return {
    data: known ?? before.current,
    error: found.error,
    isComputing,
    isBefore: known === undefined && before.current !== undefined,
    isStopped: !isComputing && found.data?.stopped === true,
    stop,
    again,
  };
};

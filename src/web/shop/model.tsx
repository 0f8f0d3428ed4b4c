// Owns the model that a sheet is about: its files as they are kept somewhere, what was changed here since, and what the engine reads in them.

import { keepPreviousData, useQuery, useQueryClient } from "@tanstack/preact-query";
import { type ComponentChildren, createContext } from "preact";
import { useCallback, useContext, useMemo, useState } from "preact/hooks";
import type { BriefPerson } from "../../ledger/index.ts";
import type { Order, Plan } from "../../plan/index.ts";
import type { AskedOf, Files, Kind, ReadSaid, SaidOf } from "../engine/asked.ts";
import { ask, numberOf } from "../engine/engine.ts";
import { call } from "./calls.ts";
import { fetchRun } from "./runs.ts";
import { type Base, drop, type Kept, keep, take } from "./shelf.ts";

/** The demo's files, by the name in their address. */
export const DEMO = {
  "plover-28": "plover-28.vehicle.yaml",
  "marten-t1": "marten-t1.vehicle.yaml",
  "bench-pump": "bench-pump.vehicle.yaml",
} as const;

/** The run that a model belongs to, with the plan that was kept when its order was taken. */
export interface RunOf {
  readonly id: string;
  readonly vehicle: string;
  readonly plan: Plan;
  readonly asked: Order;
  /** Who is to work on it; nobody where only this device says so. */
  readonly people: readonly BriefPerson[];
}

export interface Source {
  readonly files: Files;
  /** Of the server; 0 where it keeps none of these. */
  readonly version: number;
  readonly run?: RunOf;
}

export interface VehicleVersion {
  readonly vehicle: string;
  readonly version: number;
  readonly at: number;
  readonly by: string;
}

/** What is kept under an address. @throws Refusal, or Error where nothing is there */
const fetchSource = async ({ from, id }: Base, version: number | undefined, signal: AbortSignal): Promise<Source> => {
  if (from === "demo") {
    const path = DEMO[id as keyof typeof DEMO];
    if (path === undefined) throw new NothingThere(id);
    const answer = await fetch(`/app/demo/${path}`, { signal });
    if (!answer.ok) throw new NothingThere(id);
    return { files: [{ path, text: await answer.text() }], version: 0 };
  }
  if (from === "mine") {
    const kept = await take({ from, id });
    if (kept === undefined) throw new NothingThere(id);
    return { files: kept.files, version: 0 };
  }
  if (from === "runs") return fetchRun(id, signal);
  const query = version === undefined ? "" : `?version=${version}`;
  const { body } = await call<VehicleVersion & { readonly files: Files }>(
    "GET",
    `/vehicles/${encodeURIComponent(id)}${query}`,
    undefined,
    {},
    signal,
  );
  return { files: body.files, version: body.version };
};

const withText = (files: Files, path: string, text: string): Files =>
  files.map((file) => (file.path === path ? { path, text } : file));

const areSame = (one: Files, other: Files | undefined): boolean =>
  one === other ||
  (one.length === other?.length &&
    one.every(({ path, text }, n) => path === other[n]?.path && text === other[n]?.text));

class NothingThere extends Error {
  override readonly name = "NothingThere";
}

export interface Model {
  readonly base: Base;
  readonly files: Files;
  readonly version: number;
  /** Changed here, and not kept where it came from. */
  readonly isDraft: boolean;
  readonly reading: ReadSaid;
  readonly run?: RunOf;
  /** The reading is of files that were changed since, and a newer one is under way. */
  readonly isBehind: boolean;
  /** The version of the server that the files were made from; 0 where there was none. */
  readonly madeFrom: number;
  /** An earlier version that is looked at: nothing is changed in it. */
  readonly isFixed: boolean;
  /** Keeps on the device what is being typed, before it is read. */
  readonly jot: (path: string, text: string) => void;
  /** Changes one file of it; kept on the device at once. */
  readonly change: (path: string, text: string) => void;
  /** Takes other files in place of these, made from that version of the server; kept on the device at once. */
  readonly replace: (files: Files, madeFrom: number) => void;
  /** Back to what is kept where it came from. */
  readonly reset: () => void;
  /**
   * Keeps it at the server as the next version of this vehicle.
   * @param onto the version it is to follow; left out, the one it was made from, or none where it gets another name
   * @throws Refusal
   */
  readonly save: (id: string, onto?: number) => Promise<number>;
}

export type ModelState =
  | { readonly is: "loading" }
  | { readonly is: "missing" }
  | { readonly is: "failed"; readonly error: Error; readonly again: () => void }
  | { readonly is: "ready"; readonly model: Model };

/** A model and what was changed in it here. */
export const useModelAt = (base: Base, version?: number): ModelState => {
  const { from, id } = base;
  const queries = useQueryClient();
  const source = useQuery({
    queryKey: ["source", from, id, version],
    queryFn: ({ signal }) => fetchSource({ from, id }, version, signal),
    staleTime: from === "vehicles" ? 30_000 : Number.POSITIVE_INFINITY,
    retry: (count, error) => !(error instanceof NothingThere) && !("status" in error) && count < 2,
  });
  const draft = useQuery({
    queryKey: ["draft", from, id],
    // A query's answer may not be undefined.
    queryFn: async () => (await take({ from, id })) ?? null,
    enabled: from !== "mine" && from !== "runs" && version === undefined,
    staleTime: Number.POSITIVE_INFINITY,
  });
  const drafted = version === undefined && from !== "mine" && from !== "runs" ? (draft.data ?? undefined) : undefined;
  const files = drafted?.files ?? source.data?.files;
  const reading = useEngine("read", files, {});

  const isFixed = version !== undefined || from === "runs";
  // What is held now, not what was when this was drawn: a change may come while another is on its way.
  const now = useCallback((): Kept | undefined => {
    const draft = from === "mine" ? null : queries.getQueryData<Kept | null>(["draft", from, id]);
    const kept = queries.getQueryData<Source>(["source", from, id, version]);
    if (draft != null && !isFixed) return draft;
    return kept === undefined ? undefined : { files: kept.files, madeFrom: kept.version, at: Date.now() };
  }, [from, id, version, isFixed, queries]);
  const replace = useCallback(
    (changed: Files, madeFrom: number) => {
      const kept = { files: changed, madeFrom, at: Date.now() };
      void keep({ from, id }, kept);
      if (from === "mine") queries.setQueryData(["source", from, id, version], { files: changed, version: 0 });
      else queries.setQueryData(["draft", from, id], kept);
    },
    [from, id, version, queries],
  );
  const jot = useCallback(
    (path: string, text: string) => {
      const held = now();
      if (held !== undefined && !isFixed)
        void keep({ from, id }, { ...held, files: withText(held.files, path, text), at: Date.now() });
    },
    [from, id, isFixed, now],
  );
  const change = useCallback(
    (path: string, text: string) => {
      const held = now();
      if (held !== undefined && !isFixed) replace(withText(held.files, path, text), held.madeFrom);
    },
    [isFixed, now, replace],
  );
  const reset = useCallback(() => {
    void drop({ from, id });
    queries.setQueryData(["draft", from, id], null);
  }, [from, id, queries]);
  const save = useCallback(
    async (as: string, onto?: number): Promise<number> => {
      const held = now();
      if (held === undefined) throw new Error("there is nothing to keep yet");
      const own = from === "vehicles" && as === id;
      const follows = onto ?? (own ? held.madeFrom : 0);
      const { body } = await call<VehicleVersion>(
        "PUT",
        `/vehicles/${encodeURIComponent(as)}`,
        { files: held.files },
        follows > 0 ? { "if-match": `"v${follows}"` } : { "if-none-match": "*" },
      );
      queries.setQueryData(["source", "vehicles", as, undefined], { files: held.files, version: body.version });
      // What was typed while it was on its way is not in that version: it stays as it is here.
      if (own && now()?.files === held.files) reset();
      else if (own) replace(now()?.files ?? held.files, body.version);
      await queries.invalidateQueries({ queryKey: ["vehicles"] });
      return body.version;
    },
    [from, id, now, queries, replace, reset],
  );

  return useMemo((): ModelState => {
    if (source.error instanceof NothingThere || (source.error as { status?: number } | null)?.status === 404)
      return { is: "missing" };
    const error = (files === undefined ? source.error : undefined) ?? reading.error;
    if (error != null)
      return { is: "failed", error, again: () => void (source.isError ? source.refetch() : reading.refetch()) };
    if (files === undefined || reading.data === undefined || draft.isLoading) return { is: "loading" };
    return {
      is: "ready",
      model: {
        base: { from, id },
        files,
        version: source.data?.version ?? 0,
        isDraft: drafted !== undefined && !areSame(drafted.files, source.data?.files),
        madeFrom: drafted?.madeFrom ?? source.data?.version ?? 0,
        isFixed,
        reading: reading.data,
        ...(source.data?.run === undefined ? {} : { run: source.data.run }),
        isBehind: reading.isPlaceholderData,
        jot,
        change,
        replace,
        reset,
        save,
      },
    };
  }, [source, draft.isLoading, files, drafted, reading, from, id, isFixed, jot, change, replace, reset, save]);
};

const ModelContext = createContext<Model | undefined>(undefined);

export const ModelProvider = ({ model, children }: { readonly model: Model; readonly children: ComponentChildren }) => (
  <ModelContext.Provider value={model}>{children}</ModelContext.Provider>
);

/** @throws where no model is given around: a fault of the program. */
export const useModel = (): Model => {
  const model = useContext(ModelContext);
  if (model === undefined) throw new Error("no model is given here");
  return model;
};

/** An answer as it becomes known. */
export interface Known<T> {
  readonly data: T | undefined;
  readonly error: Error | null;
  /** Being computed; `data` is then of the question before, or of the search so far. */
  readonly isFetching: boolean;
  readonly isPlaceholderData: boolean;
  readonly isError: boolean;
  readonly refetch: () => unknown;
}

/**
 * Asks the engine about a model, and keeps the answer before until the new one is there. Nobody waits, nothing is computed: leaving the page ends it.
 * @param files nothing is asked while they are undefined
 * @param help goes along with the body and makes no other question of it: what is known beforehand
 */
export const useEngine = <K extends Kind>(
  kind: K,
  files: Files | undefined,
  body: AskedOf[K] | undefined,
  help?: Partial<AskedOf[K]>,
): Known<SaidOf[K]> => {
  const [better, setBetter] = useState<{ readonly key: string; readonly said: SaidOf[K] }>();
  const key = `${files === undefined ? "" : numberOf(files)} ${kind} ${JSON.stringify(body)}`;
  const found = useQuery({
    queryKey: ["engine", key],
    queryFn: ({ signal }) =>
      ask(kind, files ?? [], { ...(body as AskedOf[K]), ...help }, signal, (said) => setBetter({ key, said })),
    enabled: files !== undefined && body !== undefined,
    staleTime: Number.POSITIVE_INFINITY,
    retry: false,
    networkMode: "always",
    placeholderData: keepPreviousData,
  });
  const so = found.isPlaceholderData || found.data === undefined ? better : undefined;
  return {
    data: so?.key === key ? so.said : found.data,
    error: found.error,
    isFetching: found.isFetching,
    isPlaceholderData: found.isPlaceholderData && so?.key !== key,
    isError: found.isError,
    refetch: found.refetch,
  };
};

/** The same about the model around. */
export const useAnswer = <K extends Kind>(
  kind: K,
  body: AskedOf[K] | undefined,
  help?: Partial<AskedOf[K]>,
): Known<SaidOf[K]> => {
  const { files, reading } = useModel();
  return useEngine(kind, reading.vehicle === undefined ? undefined : files, body, help);
};

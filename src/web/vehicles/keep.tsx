// Owns keeping the model at the shop: under which name, what became of it, and what may stand in the way.

import { useQueryClient } from "@tanstack/preact-query";
import { useId, useState } from "preact/hooks";
import { Link, useLocation, useSearch } from "wouter-preact";
import { Refusal } from "../shop/calls.ts";
import { keepsFiles, useDoor, useMe } from "../shop/door.ts";
import { type Model, useModel } from "../shop/model.tsx";
import { fetchLatest, type KeptVersion } from "../shop/versions.ts";
import { useWords } from "../words/words.ts";
import { Refused } from "./refused.tsx";
import { Stale } from "./stale.tsx";

/** What a name at the shop may look like, as its server takes it. */
const NAME = "[A-Za-z0-9][A-Za-z0-9._\\-]{0,79}";

const nameFrom = (id: string): string =>
  id
    .normalize("NFKD")
    .replace(/[^A-Za-z0-9._-]+/g, "-")
    .replace(/^[^A-Za-z0-9]+|-+$/g, "")
    .slice(0, 80);

type State =
  | { readonly is: "idle" | "busy" }
  | { readonly is: "kept"; readonly id: string; readonly version: number }
  | { readonly is: "stale"; readonly id: string; readonly theirs: KeptVersion }
  | { readonly is: "refused"; readonly refusal: Refusal };

/** Keeping, and what became of the last time. */
const useKeeping = () => {
  const { base, save } = useModel();
  const queries = useQueryClient();
  const [state, setState] = useState<State>({ is: "idle" });
  const keep = async (id: string, onto?: number): Promise<void> => {
    setState({ is: "busy" });
    try {
      const version = await save(id, onto);
      await queries.invalidateQueries({ queryKey: ["version", id, "latest"] });
      setState({ is: "kept", id, version });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (error.status === 401) void queries.invalidateQueries({ queryKey: ["door"] });
      setState(error.status === 412 ? await stale(id, error) : { is: "refused", refusal: error });
    }
  };
  const stale = async (id: string, error: Refusal): Promise<State> => {
    try {
      return { is: "stale", id, theirs: await fetchLatest(queries, id) };
    } catch (other) {
      return { is: "refused", refusal: other instanceof Refusal ? other : error };
    }
  };
  const isOwn = base.from === "vehicles";
  return { state, keep, isOwn };
};

export const Keep = () => {
  const words = useWords();
  const model = useModel();
  const door = useDoor();
  const me = useMe();
  const [path] = useLocation();
  const search = useSearch();
  const { state, keep, isOwn } = useKeeping();
  const [name, setName] = useState(() => nameFrom(model.base.id));
  const form = useId();
  const isOther = !isOwn || state.is === "stale" || (state.is === "refused" && state.refusal.status === 412);
  const isNothingNew = isOwn && !model.isDraft && name === model.base.id;
  const isOver = state.is === "refused" && state.refusal.status === 401;
  const to = `/sign-in?to=${encodeURIComponent(search === "" ? path : `${path}?${search}`)}`;
  if (model.isFixed) return null;
  return (
    <section class={state.is === "busy" ? "keep busy" : "keep"} aria-labelledby={form}>
      <h2 id={form}>{words.vehicle.keep.title}</h2>
      {state.is === "kept" && !isOwn ? null : <Standing model={model} />}
      {state.is === "kept" ? (
        <p class="notice" role="status">
          <b>{words.vehicle.keep.kept(state.id, state.version)}</b>
          {isOwn && state.id === model.base.id ? null : (
            <Link href={`/vehicles/${encodeURIComponent(state.id)}/vehicle`}>{words.vehicle.keep.openKept}</Link>
          )}
        </p>
      ) : null}
      {state.is === "stale" ? (
        <Stale id={state.id} theirs={state.theirs} onMine={(onto) => void keep(state.id, onto)} />
      ) : state.is === "refused" ? (
        <Refused refusal={state.refusal} signIn={to} />
      ) : null}
      {door.isError ? (
        <p class="small soft">{words.vehicle.keep.offline}</p>
      ) : isOver ? null : door.data?.signedIn === false ? (
        <p class="small">
          {words.vehicle.keep.notSignedIn} <Link href={to}>{words.sheet.signIn}</Link>
        </p>
      ) : me !== undefined && !keepsFiles(me) ? (
        <p class="small soft">{words.vehicle.keep.notForeman}</p>
      ) : isNothingNew ? null : (
        <form
          class="stack"
          onSubmit={(event) => {
            event.preventDefault();
            void keep(name);
          }}
        >
          {isOther ? (
            <label class="field">
              <span>{words.vehicle.keep.name}</span>
              <input
                value={name}
                required
                pattern={NAME}
                title={words.vehicle.keep.nameHow}
                autocapitalize="none"
                spellcheck={false}
                onInput={({ currentTarget }) => setName(currentTarget.value.trim())}
              />
            </label>
          ) : null}
          <p>
            <button
              type="submit"
              class={state.is === "stale" ? "" : "main"}
              disabled={state.is === "busy" || model.reading.vehicle === undefined}
            >
              {state.is === "busy" ? words.vehicle.keep.keeping : words.vehicle.keep.keep}
            </button>
          </p>
          {model.reading.vehicle === undefined ? <p class="small soft">{words.vehicle.keep.whileFaults}</p> : null}
        </form>
      )}
    </section>
  );
};

/** Where what is here stands to what the shop has. */
const Standing = ({ model }: { readonly model: Model }) => {
  const words = useWords();
  const { base, isDraft, version, madeFrom } = model;
  const { keep } = words.vehicle;
  if (base.from !== "vehicles") return <p class="small soft">{isDraft ? keep.draft(0) : keep.lead}</p>;
  if (!isDraft) return <p class="small soft">{keep.upToDate(version)}</p>;
  return (
    <>
      <p class="small soft">{keep.draft(madeFrom)}</p>
      {version > madeFrom ? <p class="notice small">{keep.behind(madeFrom, version)}</p> : null}
    </>
  );
};

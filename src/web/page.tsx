// Owns the page: the data it holds, and which screen an address is.

import { QueryCache, QueryClient, QueryClientProvider } from "@tanstack/preact-query";
import { render } from "preact";
import { useCallback, useEffect, useMemo, useState } from "preact/hooks";
import { Redirect, Route, Switch, useSearch } from "wouter-preact";
import { Board } from "./board/door.tsx";
import { Newer } from "./device/installed.tsx";
import { Drafts } from "./drafts/door.tsx";
import { handPath } from "./hand/address.ts";
import { HandList, InHand, TagAnywhere } from "./hand/door.tsx";
import { Account, Devices, People, Person } from "./people/door.tsx";
import { keepSettings, type Settings, wearSettings } from "./sheet/preferred.ts";
import { SettingsContext } from "./sheet/settings.ts";
import { isSheet, SheetAt } from "./sheet/sheet.tsx";
import { SiteClock } from "./sheet/site-clock.tsx";
import { Held } from "./sheet/states.tsx";
import { Refusal } from "./shop/calls.ts";
import { DOOR } from "./shop/door.ts";
import type { Base } from "./shop/shelf.ts";
import { DropAnywhere } from "./start/drop.tsx";
import { RefusedPage } from "./start/refused-page.tsx";
import { SignIn } from "./start/sign-in.tsx";
import { Start } from "./start/start.tsx";
import { loadWords } from "./words/languages.ts";
import type { Words } from "./words/said.ts";
import { WordsContext } from "./words/words.ts";

/** What the server refuses it refuses again; what did not reach it is tried once more. */
const retry = (failed: number, error: Error): boolean =>
  failed < 1 && !(error instanceof Refusal && error.status >= 400 && error.status < 500);

const queries = new QueryClient({
  queryCache: new QueryCache({
    // Whoever is told so is signed in no more: the page must not go on saying that he is.
    onError: (error) => {
      if (error instanceof Refusal && error.status === 401) void queries.invalidateQueries({ queryKey: ["door"] });
    },
  }),
  defaultOptions: {
    queries: {
      gcTime: 15 * 60_000,
      refetchOnWindowFocus: false,
      refetchOnReconnect: true,
      // The server may be in the shop or on this machine: whether the browser thinks it is online says nothing of either.
      networkMode: "always",
      retry,
    },
  },
});

// Every page asks who is at the door: before there are words to draw it with.
void queries.prefetchQuery(DOOR);

const At = ({ from, id, sheet }: { readonly from: Base["from"]; readonly id: string; readonly sheet: string }) => {
  const version = Number(new URLSearchParams(useSearch()).get("version") ?? "");
  const base = useMemo(() => ({ from, id: decodeURIComponent(id) }), [from, id]);
  return (
    <SheetAt
      base={base}
      sheet={isSheet(sheet) ? sheet : "ties"}
      {...(Number.isInteger(version) && version > 0 ? { version } : {})}
    />
  );
};

const Pages = () => (
  <Switch>
    <Route path="/">
      <Start />
    </Route>
    <Route path="/sign-in">
      <SignIn />
    </Route>
    <Route path="/people">
      <People />
    </Route>
    <Route path="/people/:id">
      {({ id }: { readonly id: string }) => <Person key={id} person={decodeURIComponent(id)} />}
    </Route>
    <Route path="/account">
      <Account />
    </Route>
    <Route path="/device">
      <Devices />
    </Route>
    <Route path="/board">
      <Board />
    </Route>
    <Route path="/draft">
      <Drafts />
    </Route>
    <Route path="/draft/:id">{({ id }: { readonly id: string }) => <Drafts id={decodeURIComponent(id)} />}</Route>
    <Route path="/tag/:code">{({ code }: { readonly code: string }) => <TagAnywhere text={code} />}</Route>
    <Route path="/runs/:run/tag/:code">
      {({ run, code }: { readonly run: string; readonly code: string }) => (
        <Redirect to={handPath(decodeURIComponent(run), "scan", { code: decodeURIComponent(code) })} replace />
      )}
    </Route>
    {(["demo", "vehicles", "mine", "runs"] as const).map((from) => (
      <Route key={from} path={`/${from}/:id/:sheet?`}>
        {({ id, sheet }: { readonly id: string; readonly sheet?: string }) => (
          <At from={from} id={id} sheet={sheet ?? ""} />
        )}
      </Route>
    ))}
    <Route path="/hand">
      <HandList />
    </Route>
    <Route path="/hand/:run/:leaf?">
      {({ run, leaf }: { readonly run: string; readonly leaf?: string }) => (
        <InHand run={decodeURIComponent(run)} {...(leaf === undefined ? {} : { leaf })} />
      )}
    </Route>
    <Route path="/api/*">
      <RefusedPage />
    </Route>
    <Route>
      <Redirect to="/" />
    </Route>
  </Switch>
);

const Page = ({ first, spoken }: { readonly first: Settings; readonly spoken: Words }) => {
  const [settings, setSettings] = useState(first);
  const [words, setWords] = useState(spoken);
  const change = useCallback((part: Partial<Settings>) => setSettings((before) => ({ ...before, ...part })), []);
  useEffect(() => {
    keepSettings(settings);
    wearSettings(settings);
    void loadWords(settings.language).then(setWords);
  }, [settings]);
  const setting = useMemo(() => ({ settings, change }), [settings, change]);
  return (
    <SettingsContext.Provider value={setting}>
      <WordsContext.Provider value={words}>
        <QueryClientProvider client={queries}>
          <SiteClock>
            <Newer />
            <Held>
              <DropAnywhere>
                <Pages />
              </DropAnywhere>
            </Held>
          </SiteClock>
        </QueryClientProvider>
      </WordsContext.Provider>
    </SettingsContext.Provider>
  );
};

/** Draws the page for the first time. */
export const draw = (place: Element, first: Settings, spoken: Words): void =>
  render(<Page first={first} spoken={spoken} />, place);

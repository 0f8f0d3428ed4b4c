// Owns the first page: what this is, the demo, the shop's vehicles, this device's files, and the way in.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useEffect, useRef } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import { handToDrafts, TOLD } from "../drafts/handed.ts";
import { useFigures } from "../sheet/figures.ts";
import { SettingsButton } from "../sheet/settings-dialog.tsx";
import { Frame, Mark } from "../sheet/sheet.tsx";
import { call } from "../shop/calls.ts";
import { useDoor } from "../shop/door.ts";
import { DEMO, type VehicleVersion } from "../shop/model.tsx";
import { useOrders } from "../shop/runs.ts";
import { drop, mine } from "../shop/shelf.ts";
import { useWords } from "../words/words.ts";
import { DoorLinks } from "./door-page.tsx";
import { useOpen } from "./drop.tsx";
import { useDropped } from "./dropped.ts";
import { Moored } from "./moored.tsx";
import { PersonCell } from "./person-cell.tsx";

export const Start = () => {
  const words = useWords();
  useEffect(() => {
    document.title = words.sheet.app;
  }, [words]);
  return (
    <Frame block={<Block />}>
      <div class="start">
        <header>
          <h1>{words.start.title}</h1>
          <p>{words.start.lead}</p>
        </header>
        <Moored />
        <Demo />
        <Shop />
        <Runs />
        <Own />
      </div>
    </Frame>
  );
};

const Block = () => {
  const words = useWords();
  return (
    <footer class="title-block">
      <div class="cell mark">
        <Mark />
        <b>{words.sheet.app}</b>
      </div>
      <div class="cell job">
        <small>{words.sheet.caution}</small>
      </div>
      <DoorLinks />
      <PersonCell />
      <SettingsButton />
    </footer>
  );
};

/** Always there, whoever asks: computed in this browser. */
const Demo = () => {
  const words = useWords();
  const queries = useQueryClient();
  const reset = async () => {
    for (const id of Object.keys(DEMO)) {
      await drop({ from: "demo", id });
      queries.setQueryData(["draft", "demo", id], null);
    }
  };
  return (
    <section aria-labelledby="demo">
      <h2 id="demo">{words.start.demo}</h2>
      <p class="soft">{words.start.demoLead}</p>
      <ul class="models">
        {Object.entries(words.start.demos).map(([id, { name, what }], n) => (
          <li key={id}>
            <Link class={n === 0 ? "button main" : "button"} href={`/demo/${id}/ties`}>
              {name}
            </Link>
            <span class="small soft">{what}</span>
          </li>
        ))}
      </ul>
      <button type="button" class="plain small" onClick={() => void reset()}>
        {words.start.reset}
      </button>
    </section>
  );
};

const Shop = () => {
  const words = useWords();
  const figures = useFigures();
  const door = useDoor();
  const signedIn = door.data?.signedIn === true;
  const vehicles = useQuery({
    queryKey: ["vehicles"],
    queryFn: async () =>
      (await call<{ readonly vehicles: readonly VehicleVersion[] }>("GET", "/vehicles")).body.vehicles,
    enabled: signedIn,
  });
  const list = vehicles.data ?? [];
  return (
    <section aria-labelledby="shop">
      <h2 id="shop">{words.start.shop}</h2>
      {door.isError ? (
        <p class="soft">{words.sheet.offline}</p>
      ) : !signedIn ? (
        <p class="soft">
          {door.data?.setup === true ? words.start.setUpLead : words.start.signInLead}{" "}
          <Link href="/sign-in">{door.data?.setup === true ? words.start.setUp : words.sheet.signIn}</Link>
        </p>
      ) : vehicles.isError ? (
        <p class="soft">{vehicles.error.message}</p>
      ) : vehicles.isLoading ? (
        <p class="busy">{words.sheet.reading}</p>
      ) : list.length === 0 ? (
        <p class="soft">{words.start.noVehicles}</p>
      ) : (
        <ul class="models">
          {list.map(({ vehicle, version, at }) => (
            <li key={vehicle}>
              <Link class="button" href={`/vehicles/${encodeURIComponent(vehicle)}/ties`}>
                {vehicle}
              </Link>
              <span class="small soft">
                {words.sheet.version(version)}, {figures.date(at)}
              </span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
};

/** What is ordered here, the latest first. */
const Runs = () => {
  const words = useWords();
  const door = useDoor();
  const orders = useOrders();
  if (door.data?.signedIn !== true) return null;
  return (
    <section aria-labelledby="runs">
      <h2 id="runs">{words.runs.title}</h2>
      <p>
        <Link class="button main" href="/hand">
          {words.hand.title}
        </Link>{" "}
        <Link class="button" href="/board">
          {words.board.title}
        </Link>
      </p>
      {orders.data?.length === 0 ? <p class="soft">{words.runs.none}</p> : null}
      <ul class="models">
        {(orders.data ?? [])
          .toSorted((a, b) => b.at - a.at)
          .map(({ order, vehicle, state, entries }) => (
            <li key={order}>
              <Link class="button" href={`/runs/${encodeURIComponent(order)}/ties`}>
                {order}
              </Link>
              <span class="small soft">
                {vehicle}, {words.runs.state[state]}, {words.start.entries(entries)}
              </span>
            </li>
          ))}
      </ul>
    </section>
  );
};

/** Files on this device, and the way to open one. */
const Own = () => {
  const words = useWords();
  const queries = useQueryClient();
  const input = useRef<HTMLInputElement>(null);
  const { take, fault } = useOpen();
  const [, navigate] = useLocation();
  useDropped(TOLD, (files) => {
    handToDrafts(files);
    navigate("/draft");
  });
  const own = useQuery({ queryKey: ["mine"], queryFn: mine, staleTime: 0 });
  const remove = async (id: string) => {
    await drop({ from: "mine", id });
    await queries.invalidateQueries({ queryKey: ["mine"] });
  };
  return (
    <section aria-labelledby="own">
      <h2 id="own">{words.start.own}</h2>
      <p class="soft">{words.start.ownLead}</p>
      <p>
        <button type="button" onClick={() => input.current?.click()}>
          {words.start.open}
        </button>{" "}
        <Link class="button" href="/draft">
          {words.start.draft}
        </Link>
        <input
          ref={input}
          class="unseen"
          type="file"
          multiple
          accept=".yaml,.yml,text/yaml"
          aria-label={words.start.open}
          tabIndex={-1}
          onChange={({ currentTarget }) => void take([...(currentTarget.files ?? [])])}
        />
      </p>
      {fault === undefined ? null : (
        <p class="notice" role="alert">
          <b>{fault.what}.</b> {fault.mend}
        </p>
      )}
      <ul class="models">
        {(own.data ?? []).map(({ id }) => (
          <li key={id}>
            <Link class="button" href={`/mine/${encodeURIComponent(id)}/vehicle`}>
              {id}
            </Link>
            <button type="button" class="plain small" onClick={() => void remove(id)}>
              {words.start.remove(id)}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
};

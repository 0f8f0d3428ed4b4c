// Owns the sheet of the vehicle: the model as an overview, its text with what is wrong in it, its versions, and keeping it at the shop.

import { useRef } from "preact/hooks";
import { Link } from "wouter-preact";
import type { ReadSaid } from "../engine/asked.ts";
import { Help } from "../sheet/help.tsx";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { Downloads } from "./downloads.tsx";
import { FaultList } from "./fault-list.tsx";
import { useLook, VIEWS } from "./goal.ts";
import { Keep } from "./keep.tsx";
import { Overview } from "./overview.tsx";
import { Reset } from "./reset.tsx";
import { TextPane } from "./text-pane.tsx";
import { Looking, Versions } from "./versions.tsx";

/** The last reading without a fault, so that the overview does not vanish at a slip of the keyboard. */
const useSound = (reading: ReadSaid): ReadSaid => {
  const sound = useRef(reading);
  if (reading.vehicle !== undefined) sound.current = reading;
  return sound.current;
};

export const VehicleSheet = () => {
  const words = useWords();
  const { base, reading } = useModel();
  const toKeep = useRef<HTMLDivElement>(null);
  const sound = useSound(reading);
  const { vehicle } = sound;
  const { view, given, look, goal, go, arrive } = useLook(reading.vehicle === undefined ? "text" : "overview");
  return (
    <div class={`vehicle-sheet ${view}`}>
      <header class="top">
        <div>
          <h1>{vehicle?.name ?? base.id}</h1>
          {vehicle === undefined ? null : (
            <p class="soft">
              {[
                words.vehicle.counts.parts(vehicle.parts.length),
                words.vehicle.counts.connections(vehicle.connections.length),
                words.vehicle.counts.positions(vehicle.positions.length),
                words.vehicle.counts.tasks(vehicle.tasks.length),
                words.vehicle.counts.jobs(vehicle.jobs.length),
              ].join(" · ")}
            </p>
          )}
        </div>
        <nav class="vehicle-views" aria-label={words.vehicle.views}>
          {VIEWS.map((one) => (
            <button key={one} type="button" aria-pressed={one === view} onClick={() => look({ view: one })}>
              {words.vehicle[one]}
            </button>
          ))}
        </nav>
      </header>
      <div class="shown">
        <Looking />
        {view === "text" ? (
          <TextPane
            given={given.get("file")}
            goal={goal}
            onArrived={arrive}
            onFile={(file) => look({ file })}
            onKeep={() => toKeep.current?.querySelector<HTMLElement>("input, button")?.focus()}
          />
        ) : view === "versions" ? (
          <Versions />
        ) : vehicle === undefined ? (
          <p class="notice">{words.vehicle.nothingSound}</p>
        ) : (
          <>
            {reading.vehicle === undefined ? <p class="notice">{words.vehicle.lastSound}</p> : null}
            <Overview vehicle={vehicle} places={sound.places} given={given} look={look} onGo={go} />
          </>
        )}
      </div>
      <FaultList onGo={go} />
      <aside class="beside">
        <div ref={toKeep}>
          <Keep />
        </div>
        <Downloads />
        {base.from === "mine" ? (
          <Link class="button" href={`/draft/${encodeURIComponent(base.id)}`}>
            {words.vehicle.asDraft}
          </Link>
        ) : null}
        <Reset />
        <Help title={words.vehicle.help.title}>{words.vehicle.help.text}</Help>
      </aside>
    </div>
  );
};

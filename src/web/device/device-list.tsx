// Owns the list of the shop's devices: by site and people's own, each renamed in its line and withdrawn by a button that is kept pressed.

import { useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import type { Figures } from "../sheet/figures.ts";
import { HeldButton } from "../sheet/held-button.tsx";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useDoor, useEntrance, useMe } from "../shop/door.ts";
import { useSites } from "../shop/sites.ts";
import { useWords } from "../words/words.ts";
import { type Device, renameDevice, withdrawDevice } from "./devices.ts";

interface Given {
  readonly devices: readonly Device[];
  readonly figures: Figures;
}

export const DeviceList = ({ devices, figures }: Given) => {
  const words = useWords();
  const sites = useSites();
  const live = devices.filter(({ withdrawn }) => withdrawn === null);
  const gone = devices.filter(({ withdrawn }) => withdrawn !== null);
  const labelOf = (site: string) => sites.find((one) => one.site === site)?.label ?? site;
  const shared = [...new Set(live.filter(({ owner }) => owner === null).map(({ site }) => site))];
  const own = live.filter(({ owner }) => owner !== null);
  if (devices.length === 0) return <p>{words.device.noDevices}</p>;
  const group = (title: string, some: readonly Device[]) => (
    <div key={title} class="group">
      <h3>{title}</h3>
      <ul class="devices">
        {some.map((device) => (
          <Line key={device.id} device={device} figures={figures} />
        ))}
      </ul>
    </div>
  );
  return (
    <>
      {shared.map((site) =>
        group(
          words.device.tabletsOf(labelOf(site)),
          live.filter((one) => one.owner === null && one.site === site),
        ),
      )}
      {own.length === 0 ? null : group(words.device.ownDevices, own)}
      {gone.length === 0 ? null : (
        <details>
          <summary class="button">{words.device.withdrawn(gone.length)}</summary>
          <ul class="devices gone">
            {gone.map(({ id, name, withdrawn }) => (
              <li key={id}>
                {name}, {words.device.withdrawnAt(figures.moment(withdrawn ?? 0))}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
};

/** What took the place of the button that was pressed has the focus. */
const focusFirst = (input: HTMLInputElement | null): void => {
  if (document.activeElement === document.body) input?.focus();
};

const Line = ({ device, figures }: { readonly device: Device; readonly figures: Figures }) => {
  const words = useWords();
  const me = useMe();
  const queries = useQueryClient();
  const entrance = useEntrance();
  const here = useDoor().data?.device?.id === device.id;
  const [name, setName] = useState<string>();
  const [fault, setFault] = useState<Refusal>();
  const act = async (what: () => Promise<void>) => {
    setFault(undefined);
    try {
      await what();
      setName(undefined);
      // Of this very device the whole page changes; of another the list does.
      if (here) await entrance.anew();
      else await queries.invalidateQueries({ queryKey: ["devices"] });
    } catch (error) {
      setFault(asRefusal(error));
    }
  };
  const at = figures.date(device.at);
  return (
    <li>
      {name === undefined ? (
        <span class="what">
          <b>{device.name}</b>
          {here ? ` (${words.device.thisOne})` : ""}
          <small>
            {device.owner === null ? words.device.pairedBy(device.by, at) : words.device.ownedBy(device.owner, at)}
          </small>
        </span>
      ) : (
        <form
          class="what"
          onSubmit={(event) => {
            event.preventDefault();
            void act(() => renameDevice(device.id, name));
          }}
        >
          <label class="field">
            <span>{words.device.deviceName}</span>
            <input
              value={name}
              required
              maxLength={120}
              autocomplete="off"
              ref={focusFirst}
              onInput={({ currentTarget }) => setName(currentTarget.value)}
            />
          </label>
          <button type="submit" class="main">
            {words.device.keep}
          </button>
          <button type="button" onClick={() => setName(undefined)}>
            {words.device.cancel}
          </button>
        </form>
      )}
      {name === undefined && me?.by !== "pin" ? (
        <span class="device-acts">
          <button type="button" aria-label={words.device.renameOf(device.name)} onClick={() => setName(device.name)}>
            {words.device.rename}
          </button>
          <HeldButton
            label={words.device.withdraw}
            about={device.name}
            onHeld={() => void act(() => withdrawDevice(device.id))}
          />
        </span>
      ) : null}
      <Refused fault={fault} />
    </li>
  );
};

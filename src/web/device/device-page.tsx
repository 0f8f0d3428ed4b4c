// Owns the page of the devices: what this one is to the shop, pairing it, and the list of all.

import { Link } from "wouter-preact";
import { useFigures } from "../sheet/figures.ts";
import { unreached } from "../shop/calls.ts";
import { useDoor, useMe } from "../shop/door.ts";
import { Away, DoorPage } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";
import { DeviceList } from "./device-list.tsx";
import { useDevices } from "./devices.ts";
import { Pairing } from "./pairing.tsx";

export const DevicePage = () => {
  const words = useWords();
  const door = useDoor();
  return (
    <DoorPage title={words.device.title} here="device">
      {door.data === undefined ? (
        door.isFetched ? (
          <Away error={door.error ?? unreached(undefined)} again={() => void door.refetch()} />
        ) : (
          <p class="waiting busy">{words.door.moment}</p>
        )
      ) : (
        <div class="door device-page">
          <header>
            <h1>{words.device.title}</h1>
            <Standing />
          </header>
          <Pairing />
          <Devices />
        </div>
      )}
    </DoorPage>
  );
};

/** What this device is to the shop. */
const Standing = () => {
  const words = useWords();
  const me = useMe();
  const { device } = useDoor().data ?? {};
  const devices = useDevices();
  if (device == null) return <p class="stands">{words.device.unpairedNow}</p>;
  const owner = devices.data?.find(({ id }) => id === device.id)?.owner;
  return (
    <p class="stands">
      {!device.own
        ? words.device.sharedNow(device.name, device.label)
        : owner === me?.person && me !== undefined
          ? words.device.ownNow(device.name)
          : words.device.othersNow(device.name)}
    </p>
  );
};

const Devices = () => {
  const words = useWords();
  const figures = useFigures();
  const me = useMe();
  const devices = useDevices();
  if (me === undefined) return null;
  return (
    <section aria-labelledby="devices">
      <h2 id="devices">{words.device.devices}</h2>
      {devices.data !== undefined ? (
        <DeviceList devices={devices.data} figures={figures} />
      ) : devices.error === null ? (
        <p class="busy">{words.door.moment}</p>
      ) : (
        <Away error={devices.error} again={() => void devices.refetch()} />
      )}
      {me.by === "pin" ? (
        <p class="notice">
          <span>
            {words.people.onlyWork} <Link href="/sign-in?by=password&to=%2Fdevice">{words.people.onlyWorkMend}</Link>
          </span>
        </p>
      ) : null}
    </section>
  );
};

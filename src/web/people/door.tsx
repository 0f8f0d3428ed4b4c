// Owns the way to the pages of people and devices: chunks of their own, for most who come want to work, not to change who may.

import { lazy, Suspense } from "preact/compat";
import { chunkMissing } from "../sheet/renewed.ts";
import { useWords } from "../words/words.ts";

const PeoplePage = lazy(() => import("./people-page.tsx").then((page) => page.PeoplePage).catch(chunkMissing));
const PersonPage = lazy(() => import("./person-page.tsx").then((page) => page.PersonPage).catch(chunkMissing));
const AccountPage = lazy(() => import("./account-page.tsx").then((page) => page.AccountPage).catch(chunkMissing));
const DevicePage = lazy(() => import("../device/device-page.tsx").then((page) => page.DevicePage).catch(chunkMissing));

const Wait = () => <p class="waiting busy">{useWords().sheet.reading}</p>;

export const People = () => (
  <Suspense fallback={<Wait />}>
    <PeoplePage />
  </Suspense>
);

export const Person = (of: { readonly person: string }) => (
  <Suspense fallback={<Wait />}>
    <PersonPage {...of} />
  </Suspense>
);

export const Account = () => (
  <Suspense fallback={<Wait />}>
    <AccountPage />
  </Suspense>
);

export const Devices = () => (
  <Suspense fallback={<Wait />}>
    <DevicePage />
  </Suspense>
);

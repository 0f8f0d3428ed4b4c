// Owns pins as the address holds them, so that back takes one back and a link shares them. A key `pin` for each:
//   pin=STEP@90     the step begins at minute 90 of the order, exactly
//   pin=STEP~90     … not before minute 90
//   pin=STEP=dora   … is done by this person, whoever else may help
// STEP is as the schedule names it: a connection or task, `back:` or `look:` before it on the way back; `set:` or `clear:` before a state of the vehicle that is changed.

import { useCallback, useMemo } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import type { Pin } from "../../plan/index.ts";

export const readPin = (text: string): Pin | undefined => {
  const [, step = "", mark, value = ""] = /^(.+)([@~=])([^@~=]+)$/.exec(text) ?? [];
  if (mark === undefined) return undefined;
  if (mark === "=") return { step, by: value };
  if (!/^-?\d+$/.test(value)) return undefined;
  return mark === "@" ? { step, at: Number(value) } : { step, from: Number(value) };
};

export const writePin = (pin: Pin): string =>
  "by" in pin ? `${pin.step}=${pin.by}` : "at" in pin ? `${pin.step}@${pin.at}` : `${pin.step}~${pin.from}`;

export const samePin = (one: Pin, other: Pin): boolean => writePin(one) === writePin(other);

/** The pins with a wish of when a step begins in place of any other such; undefined lets go of it. */
export const pinnedWhen = (pins: readonly Pin[], step: string, when: Pin | undefined): readonly Pin[] => [
  ...pins.filter((pin) => pin.step !== step || "by" in pin),
  ...(when === undefined ? [] : [when]),
];

/** The pins with a person given a step, in place of another where one is named. */
export const pinnedTo = (pins: readonly Pin[], step: string, person: string, insteadOf?: string): readonly Pin[] => [
  ...pins.filter((pin) => pin.step !== step || !("by" in pin) || (pin.by !== insteadOf && pin.by !== person)),
  { step, by: person },
];

/** The pins of this page, and their change: a step that the browser's back undoes. */
export const usePins = (): readonly [readonly Pin[], (pins: readonly Pin[]) => void] => {
  const search = useSearch();
  const [path, navigate] = useLocation();
  const texts = JSON.stringify([...new Set(new URLSearchParams(search).getAll("pin"))]);
  const pins = useMemo(() => (JSON.parse(texts) as readonly string[]).flatMap((text) => readPin(text) ?? []), [texts]);
  const change = useCallback(
    (next: readonly Pin[]) => {
      const given = new URLSearchParams(search);
      given.delete("pin");
      for (const pin of next) given.append("pin", writePin(pin));
      navigate(`${path}?${given}`);
    },
    [search, path, navigate],
  );
  return [pins, change];
};

// Owns how a component comes by what this device's user prefers, and changes it.

import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Settings } from "./preferred.ts";

export interface Setting {
  readonly settings: Settings;
  readonly change: (part: Partial<Settings>) => void;
}

export const SettingsContext = createContext<Setting | undefined>(undefined);

/** @throws where nothing around gives settings: a fault of the program. */
export const useSettings = (): Setting => {
  const setting = useContext(SettingsContext);
  if (setting === undefined) throw new Error("no settings are given here");
  return setting;
};

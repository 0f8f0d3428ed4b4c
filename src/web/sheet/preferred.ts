// Owns what this device's user prefers: language, units, light. Kept on the device.

import { isLanguage, type Language } from "../words/languages.ts";

export interface Settings {
  readonly language: Language;
  readonly units: "si" | "inch";
  readonly light: "auto" | "day" | "night";
}

const KEY = "unmoor.settings";

/** As kept; where nothing is, the browser's language, and SI. */
export const readSettings = (): Settings => {
  let kept: Partial<Settings> = {};
  try {
    kept = JSON.parse(localStorage.getItem(KEY) ?? "{}") as Partial<Settings>;
  } catch {
    // A device that keeps nothing, or something else under this name: the usual is as good.
  }
  const own = navigator.language.slice(0, 2);
  return {
    language: isLanguage(kept.language) ? kept.language : isLanguage(own) ? own : "en",
    units: kept.units === "inch" ? "inch" : "si",
    light: kept.light === "day" || kept.light === "night" ? kept.light : "auto",
  };
};

export const keepSettings = (settings: Settings): void => {
  try {
    localStorage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // Then they hold until the page is left.
  }
};

/** Gives the document its language and its light. */
export const wearSettings = ({ language, light }: Settings): void => {
  document.documentElement.lang = language;
  document.documentElement.dataset.light = light;
};

// Owns how a moment of the calendar is told: day and time of 24 hours, in the language of the device's user.

import type { Language } from "../words/words.ts";

/** @param at milliseconds since 1970 */
export const sayMoment = (at: number, language: Language): string =>
  new Date(at).toLocaleString(language === "en" ? "en-GB" : language, {
    year: "numeric",
    month: "short",
    day: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });

// Owns the writing of figures on paper: the decimal sign of the language, units, minutes, times.

import { inwards } from "../quantity/index.ts";
import type { Lang } from "./sheet.ts";

export interface Figures {
  /** At most so many decimals, without zeros at the end. */
  number(value: number, digits?: number): string;
  /** So many places that count. */
  places(value: number, places: number): string;
  /** Limits as one can keep to them: "104.5–115.5". */
  limits(low: number, high: number): string;
  minutes(value: number): string;
  /** Minute of an order, as a time of day where it is known when it begins. */
  clock(minute: number, begins?: number): string;
  /** A moment, to the minute, UTC: the same on every machine. */
  moment(milliseconds: number): string;
}

const twoDigits = (value: number): string => String(value).padStart(2, "0");

export const figuresOf = (lang: Lang): Figures => {
  const sign = (text: string): string => (lang === "de" ? text.replace(".", ",") : text).replace("-", "−");
  const number = (value: number, digits = 1): string => sign(String(Number(value.toFixed(digits))));
  const hours = (minute: number): string => `${Math.floor(minute / 60)}:${twoDigits(Math.round(minute) % 60)}`;
  return {
    number,
    places: (value, places) => sign(String(Number(value.toPrecision(places)))),
    limits: (low, high) =>
      inwards(low, high, high < 10 ? 2 : 1)
        .map((end) => sign(String(end)))
        .join("–"),
    minutes: (value) => `${number(value)} min`,
    clock: (minute, begins) => (begins === undefined ? `+${hours(minute)}` : hours((begins + minute) % 1440)),
    moment: (milliseconds) => `${new Date(milliseconds).toISOString().slice(0, 16).replace("T", " ")} UTC`,
  };
};

// Owns the writing of figures on paper: the decimal sign of the language, units, minutes, times.

import { inwards } from "../quantity/index.ts";
import type { Lang } from "./sheet.ts";

export interface Figures {
  /** At most so many decimals, without zeros at the end. */
  number(value: number, digits?: number): string;
  /** Exactly so many decimals: what stands under one another in a column. */
  fixed(value: number, digits: number): string;
  /** So many places that count. */
  places(value: number, places: number): string;
  /** Limits as one can keep to them: "104.5–115.5". */
  limits(low: number, high: number): string;
  /** What is measured out: small amounts in the unit that they are measured in. */
  amount(value: number, unit: string): string;
  /** What somebody read and wrote with its unit, "11.6 L". */
  asRead(text: string): string;
  /** "45 min", "2 h 5 min". */
  minutes(value: number): string;
  /** Minute of an order, as a time of day where it is known when it begins, from the second day on with the day. */
  clock(minute: number, begins?: number): string;
  /** A moment, to the minute, UTC: the same on every machine. */
  moment(milliseconds: number): string;
}

const HOUR = 60;
const DAY = 24 * HOUR;
const DAYS: Readonly<Record<Lang, string>> = { en: "day", de: "Tag" };

/** A thousandth of each. */
const SMALL: Readonly<Record<string, string>> = { L: "mL", kg: "g", m: "mm" };

const twoDigits = (value: number): string => String(value).padStart(2, "0");

export const figuresOf = (lang: Lang): Figures => {
  const sign = (text: string): string => (lang === "de" ? text.replace(".", ",") : text).replace("-", "−");
  const number = (value: number, digits = 1): string => sign(String(Number(value.toFixed(digits))));
  const hours = (minute: number): string => `${Math.floor(minute / 60)}:${twoDigits(Math.round(minute) % 60)}`;
  const places = (value: number, count: number): string => sign(String(Number(value.toPrecision(count))));
  const three = (value: number): string => places(value, 3);
  return {
    number,
    fixed: (value, digits) => sign(value.toFixed(digits)),
    places,
    limits: (low, high) =>
      inwards(low, high, high < 10 ? 2 : 1)
        .map((end) => sign(String(end)))
        .join("–"),
    amount: (value, unit) => {
      const small = value < 0.1 ? SMALL[unit] : undefined;
      return small === undefined ? `${three(value)} ${unit}` : `${three(value * 1000)} ${small}`;
    },
    asRead: (text) => (lang === "de" ? text.replace(/(\d)\.(\d)/g, "$1,$2") : text),
    minutes: (value) => {
      if (value < HOUR) return `${number(value)} min`;
      const [whole, rest] = [Math.floor(Math.round(value) / HOUR), Math.round(value) % HOUR];
      return `${whole} h${rest === 0 ? "" : ` ${rest} min`}`;
    },
    clock: (minute, begins) => {
      if (begins === undefined) return `+${hours(minute)}`;
      const day = Math.floor((begins + minute) / DAY);
      return `${day === 0 ? "" : `${DAYS[lang]} ${day + 1}, `}${hours((begins + minute) % DAY)}`;
    },
    moment: (milliseconds) => `${new Date(milliseconds).toISOString().slice(0, 16).replace("T", " ")} UTC`,
  };
};

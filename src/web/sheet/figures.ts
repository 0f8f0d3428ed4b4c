// Owns how figures are shown: in the units and the language that this device prefers, times of day by 24 hours and in the time zone of the site.

import { createContext } from "preact";
import { useContext, useMemo } from "preact/hooks";
import { findUnit, fromBase, inwards } from "../../quantity/index.ts";
import type { Settings } from "./preferred.ts";
import { useSettings } from "./settings.ts";

/** What is shown, in the base unit that it comes in. */
type Shown = "mass" | "length" | "short" | "force" | "torque" | "volume";

/** The unit for each, by preference, with its decimals; `short` is a length of the workpiece, millimetres or inches. */
const UNITS: Readonly<Record<Settings["units"], Readonly<Record<Shown, readonly [unit: string, digits: number]>>>> = {
  si: {
    mass: ["kg", 1],
    length: ["m", 2],
    short: ["mm", 0],
    force: ["kN", 2],
    torque: ["N·m", 1],
    volume: ["L", 1],
  },
  inch: {
    mass: ["lb", 0],
    length: ["ft", 2],
    short: ["in", 2],
    force: ["lbf", 0],
    torque: ["lbf·ft", 1],
    volume: ["US gal", 2],
  },
};

/** Of limits that lie close together. */
const MOST_DIGITS = 6;
const HOUR = 60;
const DAY = 24 * HOUR;

const DATE = { year: "numeric", month: "short", day: "numeric" } as const;
const TIME = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" } as const;

/** The time zone of the site, by its IANA name; where nobody says one it is the browser's own. */
export const ZoneContext = createContext<string | undefined>(undefined);

/** English as it is written where a day has 24 hours. */
const localeOf = (language: Settings["language"]): string => (language === "en" ? "en-GB" : language);

/** Made once for a language and count of digits: making one takes a millisecond, and a sheet has hundreds of figures. */
const formats = new Map<string, Intl.NumberFormat>();
const numberFormat = (language: Settings["language"], digits: number, useGrouping = true): Intl.NumberFormat => {
  const key = `${language} ${digits} ${useGrouping}`;
  const kept = formats.get(key);
  if (kept !== undefined) return kept;
  const made = new Intl.NumberFormat(language, { maximumFractionDigits: digits, useGrouping });
  formats.set(key, made);
  return made;
};

/** The formats of most figures, made before one is wanted in answer to a touch. */
export const prepareFigures = ({ language }: Settings): void => {
  for (const digits of [0, 1, 2]) numberFormat(language, digits);
};

export class Figures {
  private readonly settings: Settings;
  private readonly zone: string | undefined;

  constructor(settings: Settings, zone?: string) {
    this.settings = settings;
    this.zone = zone;
  }

  number(value: number, digits = 0, isGrouped = true): string {
    return numberFormat(this.settings.language, digits, isGrouped).format(value).replace("-", "−");
  }

  percent(share: number, digits = 0): string {
    return `${this.number(100 * share, digits)} %`;
  }

  /** A value of base units (kg, m, N, N·m, L) in the unit that is preferred. */
  measure(value: number, shown: Shown): string {
    const [unit, digits] = UNITS[this.settings.units][shown];
    return `${this.number(this.inUnit(value, shown), digits)} ${unit}`;
  }

  /** Limits in the unit that is preferred, as one can keep to them: "104.5–115.5 N·m". */
  limits(low: number, high: number, shown: Shown): string {
    const [unit, digits] = UNITS[this.settings.units][shown];
    const ends = inwards(this.inUnit(low, shown), this.inUnit(high, shown), digits);
    return `${ends.map((end) => this.number(end, MOST_DIGITS)).join("–")} ${unit}`;
  }

  /** The value without its unit, and the unit: for an axis. */
  inUnit(value: number, shown: Shown): number {
    const unit = findUnit(UNITS[this.settings.units][shown][0]);
    return unit === undefined ? value : fromBase(value, unit);
  }

  /** The value alone, to be changed in a field: no grouping, the decimals after the sign of the language, which every field reads. */
  plain(value: number, shown: Shown): string {
    const digits = UNITS[this.settings.units][shown][1];
    return this.number(this.inUnit(value, shown), digits, false);
  }

  unit(shown: Shown): string {
    return UNITS[this.settings.units][shown][0];
  }

  degrees(value: number, digits = 1): string {
    return `${this.number(value, digits)}°`;
  }

  /** Minutes as hours and minutes: "2 h 35 min". */
  minutes(value: number): string {
    const whole = Math.round(value);
    if (Math.abs(whole) < HOUR) return `${this.number(value, value < 10 ? 1 : 0)} min`;
    const rest = whole % HOUR;
    return `${Math.trunc(whole / HOUR)} h${rest === 0 ? "" : ` ${String(rest).padStart(2, "0")} min`}`;
  }

  /** The time of day so many minutes after midnight of the first day; from the second day on with the day's number. */
  clock(value: number): string {
    const whole = Math.round(value);
    const [day, of] = [Math.floor(whole / DAY), ((whole % DAY) + DAY) % DAY];
    const time = `${String(Math.floor(of / HOUR)).padStart(2, "0")}:${String(of % HOUR).padStart(2, "0")}`;
    return day > 0 ? `${time} +${day}` : time;
  }

  /** Day and time of a moment of the calendar. @param at milliseconds since 1970 */
  moment(at: number): string {
    return this.calendar(at, { ...DATE, ...TIME });
  }

  date(at: number): string {
    return this.calendar(at, DATE);
  }

  /** The time of day of a moment. */
  time(at: number): string {
    return this.calendar(at, TIME);
  }

  /** The time of day of a moment that is near: to the second. */
  second(at: number): string {
    return this.calendar(at, { ...TIME, second: "2-digit" });
  }

  /** The day of a moment as ISO 8601 has it. */
  isoDate(at: number): string {
    // This language writes it so.
    return new Date(at).toLocaleDateString("sv-SE", this.inZone);
  }

  private calendar(at: number, parts: Intl.DateTimeFormatOptions): string {
    return new Date(at).toLocaleString(localeOf(this.settings.language), { ...parts, ...this.inZone });
  }

  private get inZone(): Intl.DateTimeFormatOptions {
    return this.zone === undefined ? {} : { timeZone: this.zone };
  }
}

export const useFigures = (): Figures => {
  const { settings } = useSettings();
  const zone = useContext(ZoneContext);
  return useMemo(() => new Figures(settings, zone), [settings, zone]);
};

// Owns how a minute of the order is said and read on the timeline: as a time of day where the order begins at one, else as hours and minutes from 0:00.

import type { Figures } from "../sheet/figures.ts";

const HOUR = 60;
const DAY = 24 * HOUR;

export const sayMinute = (figures: Figures, minute: number, begins: number | undefined): string => {
  if (begins !== undefined) return figures.clock(begins + minute);
  const whole = Math.round(minute);
  return `${Math.floor(whole / HOUR)}:${String(whole % HOUR).padStart(2, "0")}`;
};

/** "7:45", "26:30", "02:30 +1" as a minute of the order; undefined where it is no time. */
export const readMinute = (text: string, begins: number | undefined): number | undefined => {
  const [, hours, minutes, days] = /^\s*(\d{1,3}):([0-5]\d)(?:\s*\+(\d{1,2}))?\s*$/.exec(text) ?? [];
  if (hours === undefined) return undefined;
  return Number(days ?? 0) * DAY + Number(hours) * HOUR + Number(minutes) - (begins ?? 0);
};

/** Minutes to which a bar is dragged. */
const SNAP = 5;

/** The nearest such minute of the clock that is not before the beginning. */
export const snapped = (minute: number, begins: number | undefined): number => {
  const offset = begins ?? 0;
  const at = Math.round((minute + offset) / SNAP) * SNAP - offset;
  return at < 0 ? at + SNAP * Math.ceil(-at / SNAP) : at;
};

/** Marks of the axis so far apart that each finds room. */
export const ticksBetween = (
  from: number,
  until: number,
  begins: number | undefined,
  pixels: number,
): readonly number[] => {
  const every = [5, 10, 15, 30, 60, 120, 240, 480, DAY].find((one) => one * pixels >= 64) ?? 2 * DAY;
  const offset = begins ?? 0;
  const first = Math.ceil((from + offset) / every) * every - offset;
  return Array.from({ length: Math.max(0, Math.floor((until - first) / every) + 1) }, (_, n) => first + n * every);
};

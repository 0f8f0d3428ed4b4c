// Owns what is read off simulated finishes: the chance of a time, the dots that stand for so many runs each, and how a person writes a time.

/** The share of the runs done within so many minutes. `quantiles`: of equal shares, rising. */
export const chanceWithin = (quantiles: readonly number[], minutes: number): number => {
  const last = quantiles.length - 1;
  const above = quantiles.findIndex((one) => one > minutes);
  if (above === 0 || last < 1) return 0;
  if (above < 0) return 1;
  const [low, high] = [quantiles[above - 1] ?? 0, quantiles[above] ?? 0];
  return (above - 1 + (minutes - low) / (high - low)) / last;
};

export interface Dot {
  /** Minutes of the middle of its column, and of the run that it stands for. */
  readonly column: number;
  readonly minutes: number;
  /** From below, 0 the lowest. */
  readonly row: number;
}

/** So many dots, each for as many of the runs, heaped in columns of this width. */
export const dotsOf = (quantiles: readonly number[], count: number, width: number): readonly Dot[] => {
  const last = quantiles.length - 1;
  const heights = new Map<number, number>();
  return Array.from({ length: count }, (_, index) => {
    const minutes = quantiles[Math.round(((index + 0.5) / count) * last)] ?? 0;
    const at = Math.floor(minutes / width);
    const row = heights.get(at) ?? 0;
    heights.set(at, row + 1);
    return { column: (at + 0.5) * width, minutes, row };
  });
};

const DAY = 1440;

/**
 * Minutes from the beginning of a time as people write it: "15:30" of the clock, the next time that it is so late; "8 h 30 min", "8.5 h", "510" and "510 min" of work.
 * @param begins minutes after midnight at which it begins
 */
export const readTime = (text: string, begins: number): number | undefined => {
  const written = text.trim().replace(",", ".");
  const clock = /^(\d{1,2}):(\d\d)(?:\s*\+\s*(\d+))?$/.exec(written);
  if (clock !== null) {
    const [hours, minutes, days] = [Number(clock[1]), Number(clock[2]), Number(clock[3] ?? 0)];
    if (hours > 23 || minutes > 59) return undefined;
    const at = hours * 60 + minutes - (begins % DAY);
    return at + DAY * (days > 0 ? days : at <= 0 ? 1 : 0);
  }
  const lasting = /^(?:(\d+(?:\.\d+)?)\s*h)?\s*(?:(\d+(?:\.\d+)?)\s*(?:min)?)?$/i.exec(written);
  if (lasting === null || (lasting[1] === undefined && lasting[2] === undefined)) return undefined;
  return 60 * Number(lasting[1] ?? 0) + Number(lasting[2] ?? 0);
};

/** Distances between ticks that people reckon in, minutes. */
const STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 960, 1440, 2880, 7200];

/** Whole times between two, so many at most. */
export const timeTicks = (from: number, to: number, most: number): readonly number[] => {
  const step = STEPS.find((one) => (to - from) / one <= most) ?? Math.ceil((to - from) / most / DAY) * DAY;
  const first = Math.ceil(from / step) * step;
  return Array.from({ length: Math.max(0, Math.floor((to - first) / step) + 1) }, (_, index) => first + index * step);
};

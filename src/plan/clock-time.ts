// Owns how minutes are written: as a time of day where the order begins at one, else as hours and minutes from its beginning.

const DAY = 24 * 60;

const pair = (minutes: number): string => `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;

/** "9:45"; of a later day "day 2 9:45". Whole minutes: nobody looks at the half. */
export const clockTime = (minutes: number, begins: number | undefined): string => {
  const at = Math.round(minutes + (begins ?? 0));
  if (begins === undefined || at < DAY) return pair(at);
  return `day ${Math.floor(at / DAY) + 1} ${pair(at % DAY)}`;
};

/** "8 h 4 min", "44 min". */
export const lasting = (minutes: number): string => {
  const all = Math.round(minutes * 10) / 10;
  if (all < 60) return `${all} min`;
  const rest = Math.round(all % 60);
  const hours = Math.floor(all / 60) + (rest === 60 ? 1 : 0);
  return rest % 60 === 0 ? `${hours} h` : `${hours} h ${rest} min`;
};

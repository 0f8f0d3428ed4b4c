// Owns the sheet of times.

export const TimesSheet = () => <p>…</p>;

// Owns the sheet of ties.

export const TiesSheet = () => <p>…</p>;

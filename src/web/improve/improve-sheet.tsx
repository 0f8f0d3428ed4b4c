// Owns the sheet of improve.

export const ImproveSheet = () => <p>…</p>;

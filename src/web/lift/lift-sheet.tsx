// Owns the sheet of lift.

export const LiftSheet = () => <p>…</p>;

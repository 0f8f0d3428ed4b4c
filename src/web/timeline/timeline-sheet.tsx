// Owns the sheet of timeline.

export const TimelineSheet = () => <p>…</p>;

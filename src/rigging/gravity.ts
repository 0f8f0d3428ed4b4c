// Owns the pull of the earth: what a mass weighs.

/** m/s², the conventional value (3rd CGPM 1901; ISO 80000-3). */
export const GRAVITY = 9.80665;

// Owns how long the order takes with its crew, as it sharpens.

export const Elapsed = () => null;

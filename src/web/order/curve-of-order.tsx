// Owns how long the order takes with one person, two, three: asked when somebody wants to know.

export const CurveOfOrder = () => null;

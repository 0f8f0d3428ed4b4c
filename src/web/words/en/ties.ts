// Owns the words of the sheet of ties, in English.

export const ties = {} as const;

// Owns the words of the sheet of order, in English.

export const order = {} as const;

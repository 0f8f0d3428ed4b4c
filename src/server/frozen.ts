// Owns the shape of a document that is given away: every list and record in it may be read only.

/** A shape whose every list and record may be read only: what a command or the server writes it does not own. */
export type Frozen<T> = T extends object ? { readonly [Key in keyof T]: Frozen<T[Key]> } : T;

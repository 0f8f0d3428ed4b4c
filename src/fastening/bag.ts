// Owns a bag of hardware: what came off one connection, and how far it was counted in again.

export interface Counted {
  readonly item: string;
  readonly count: number;
}

/** A connection's hardware as it went out and as far as it was counted in again. */
export interface Bag {
  readonly connection: string;
  /** Counted out, the fastener first; `in` where it was counted as it went in. */
  readonly items: readonly (Counted & { readonly in?: number })[];
  /** Not yet recorded as empty. */
  readonly open: boolean;
  /** A torque or a mark is recorded for the joint; absent where the joint has neither. */
  readonly marked?: boolean;
  /** Cannot be seen from where people stand. */
  readonly hidden?: boolean;
  /** Where its bag stands open; pieces change bags only within a place. Absent: anywhere. */
  readonly place?: string;
}

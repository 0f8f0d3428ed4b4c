// Owns the question in whole ticks and indices: time variables, arcs between them, choices of arcs, and what takes up lanes.
//
// Everything is said of the starts s[0..size) of the items. It is what the proof works on: each schedule that the rules allow gives starts that satisfy it,
// so the least makespan here is a bound on the least elapsed time there.

/** Lists of equal length: s[to] ≥ s[from] + lag, lag of any sign. */
export interface Arcs {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly lag: Int32Array;
}

/** What takes up lanes from s[first] + head to before s[last] + tail. An item's own use has first = last, head 0, tail its ticks. */
export interface Uses {
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly head: Int32Array;
  readonly tail: Int32Array;
  /** Use × lane, row by use: need[use * lanes + lane]. */
  readonly need: Int32Array;
}

export interface Model {
  /** Items: tasks, changes, absences. */
  readonly size: number;
  /** From the start of an item to its end. */
  readonly ticks: Int32Array;
  /** 1: the makespan is the greatest s[i] + ticks[i] of these. 0: the item may lie beyond it (a change of state that may not be wanted), up to its `latest`. */
  readonly counted: Uint8Array;
  readonly earliest: Int32Array;
  /** Latest start; a large number (at most 2^28) where nothing says. */
  readonly latest: Int32Array;
  readonly arcs: Arcs;
  /** Of each pair of arcs (same place in both lists) at least one holds. */
  readonly either: Arcs;
  readonly or: Arcs;
  readonly lanes: number;
  readonly capacity: Int32Array;
  readonly uses: Uses;
  /** Starts that an item may not have: sorted half-open spells, of item i from bar[i] to bar[i + 1] in `barFrom`/`barUntil`. */
  readonly bar: Int32Array;
  readonly barFrom: Int32Array;
  readonly barUntil: Int32Array;
}

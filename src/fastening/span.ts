// Owns a figure that is known within limits.

/** A figure with the limits between which it may lie. */
export interface Span {
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}

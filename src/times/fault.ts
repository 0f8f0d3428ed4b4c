// Owns what is wrong with a time that is given: data first, the sentence where it is shown.

/** `at` names the figure or the place of a list; the mend is a whole sentence. */
export interface Fault {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

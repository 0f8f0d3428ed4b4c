// Owns what is wrong with a text that should be an entry: place, fault, mend, as data; the sentence is made last.

export type Rule =
  | "E1" // not JSON
  | "E2" // a field is missing
  | "E3" // a field that no entry of this kind has
  | "E4" // a field is not of its sort
  | "E5" // no such kind
  | "E6"; // not canonical: another text than the one that was signed

export interface Fault {
  readonly rule: Rule;
  /** Path of the field, "" for the whole. */
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

export const sentence = ({ at, what, mend }: Fault): string => `${at === "" ? "" : `${at}: `}${what}. ${mend}`;

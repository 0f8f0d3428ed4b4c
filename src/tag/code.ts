// Owns the tag code: six characters that stand for a connection on a tag, read aloud or typed without being taken for another.
//
// ALPHABET has 19 characters, a prime, and none that looks like another: of 0/O/D/Q, 1/I/L, 2/Z, 5/S, 6/G, 8/B and U/V at most one each, of the letters
// that rhyme in English (B C D E G P T V Z) one, and no vowel, so that no code is a word.
//
// The check character makes the sum of value × 2^place a multiple of 19 (a modulus-prime scheme as ISO/IEC 7064 has them, with 2 as the base of the
// weights). Why that is enough: places have the weights 1, 2, 4 … 32, none a multiple of 19, so one wrong character changes the sum by
// weight × difference, which 19 does not divide; two neighbours swapped change it by (weight − next weight) × difference = −weight × difference, the
// same. tag.test.ts tries every code there can be of them.

export const ALPHABET = "23456789FHJKLMPRWXY";
const BASE = ALPHABET.length;

/** Characters that say something; the last of a code proves them. */
const SAYING = 5;
export const LENGTH = SAYING + 1;

/** How many codes there are. */
export const CODES = BASE ** SAYING;

const sum = (values: readonly number[]): number =>
  values.reduce((total, value, place) => (total + value * 2 ** (values.length - 1 - place)) % BASE, 0);

/** The code of a number from 0 to CODES − 1: six characters, as `writeCode` groups them for people. */
export const codeOf = (number: number): string => {
  const values: number[] = [];
  for (let left = number, n = 0; n < SAYING; n += 1, left = Math.floor(left / BASE)) values.unshift(left % BASE);
  // The check character has the weight 1: what is missing to the next multiple.
  const check = (BASE - sum([...values, 0])) % BASE;
  return [...values, check].map((value) => ALPHABET[value]).join("");
};

/** Whether these six characters can be a code: none of the alphabet's is wrong, none has changed places with its neighbour. */
export const isCode = (text: string): boolean => {
  const values = [...text].map((one) => ALPHABET.indexOf(one));
  return values.length === LENGTH && !values.includes(-1) && sum(values) === 0;
};

/** As it stands on a tag and is read aloud: `K7P-3X4`. */
export const writeCode = (code: string): string => `${code.slice(0, LENGTH / 2)}-${code.slice(LENGTH / 2)}`;

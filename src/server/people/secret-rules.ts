// Owns which passwords and PINs are taken: long rather than odd, and none that is tried first.

import { badRequest } from "../http/problem.ts";

/** Characters. Two more than the least of NIST SP 800-63B (revision 3, 5.1.1.1); revision 4 asks for 15 where nothing else is asked for. */
const SHORTEST = 10;
const LONGEST = 200;

/** What is tried first among those long enough: NIST SP 800-63B, 5.1.1.2, asks to compare with such a list. From memory; letters small, no spaces. */
const TRIED_FIRST: ReadonlySet<string> = new Set([
  ..."1234567890 0123456789 9876543210 12345678910 123456789a 1q2w3e4r5t 1q2w3e4r5t6y q1w2e3r4t5 qwertyuiop qwertzuiop".split(
    " ",
  ),
  ..."azertyuiop asdfghjkl; 1qaz2wsx3edc qazwsxedcrfv password12 password123 password1234 passw0rd123 p@ssword123".split(
    " ",
  ),
  ..."passwordpassword letmein123 welcome123 iloveyou123 administrator changeme123 abcdefghij abcd123456 abc1234567".split(
    " ",
  ),
  ..."sunshine123 football123 baseball123 superman123 princess123 masterpassword correcthorsebatterystaple trustno1trustno1".split(
    " ",
  ),
]);

/** Words of the place: the other kind of list that NIST names. */
const OWN_WORDS = ["unmoor", "workshop", "password", "foreman", "mechanic"];

/**
 * @param about what the password may not be: the person's id and name
 * @throws Problem 400
 */
export const checkPassword = (password: string, about: readonly string[]): void => {
  const length = [...password.normalize("NFKC")].length;
  if (length < SHORTEST) throw badRequest(["passwordShort", length, SHORTEST], ["takeWords"]);
  if (length > LONGEST) throw badRequest(["passwordLong", LONGEST], ["takeShorter"]);
  const plain = plainly(password);
  const owned = [...about, ...OWN_WORDS].map(plainly).filter((word) => word !== "");
  // A word of the place with a number behind it is that word.
  const isOwn = owned.some((word) => plain.replace(/[\d!.?]+$/, "") === word || plain === word + word);
  if (TRIED_FIRST.has(plain) || isOwn || repeats(plain)) throw badRequest(["triedFirst", "password"], ["takeOwnWords"]);
};

/**
 * 4 to 8 digits, none of those that are tried first: one digit or a short group repeated, or digits in a row.
 * @throws Problem 400
 */
export const checkPin = (pin: string): void => {
  if (!/^\d{4,8}$/.test(pin)) throw badRequest(["pinShape"], ["takeSoMany"]);
  const steps = [...pin].slice(1).map((digit, i) => (Number(digit) - Number(pin[i]) + 10) % 10);
  const inARow = steps.every((step) => step === 1) || steps.every((step) => step === 9);
  if (inARow || repeats(pin)) throw badRequest(["triedFirst", "PIN"], ["takeAnother"]);
};

const plainly = (text: string): string => text.normalize("NFKC").toLowerCase().replaceAll(/\s/g, "");

/** Whether it is one group, of less than half its length or of two characters, again and again. */
const repeats = (text: string): boolean => /^(.{1,4})\1+$/su.test(text);

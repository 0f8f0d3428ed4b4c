// Owns start secrets that nobody has to think of: by the device's own chance, easy to read out, none of those that are tried first.

/** Letters and digits that nobody takes for others when they are written on a slip of paper. */
const SIGNS = "abcdefghjkmnpqrstuvwxyz23456789";

type Random = (bytes: Uint8Array<ArrayBuffer>) => unknown;

/** Evenly one of so many: what does not divide is thrown again. */
const chance = (many: number, random: Random): number => {
  const byte = new Uint8Array(1);
  const most = 256 - (256 % many);
  do random(byte);
  while ((byte[0] ?? 0) >= most);
  return (byte[0] ?? 0) % many;
};

const own: Random = (bytes) => crypto.getRandomValues(bytes);

/** Six digits, neither in a row nor a group again and again: those the server does not take. */
export const madeUpPin = (random: Random = own): string => {
  for (;;) {
    const pin = Array.from({ length: 6 }, () => chance(10, random)).join("");
    const steps = [...pin].slice(1).map((digit, i) => (Number(digit) - Number(pin[i]) + 10) % 10);
    const inARow = steps.every((step) => step === 1) || steps.every((step) => step === 9);
    if (!(inARow || /^(.{1,4})\1+$/.test(pin))) return pin;
  }
};

/** Three groups of four: 59 bits. */
export const madeUpPassword = (random: Random = own): string =>
  Array.from({ length: 3 }, () => Array.from({ length: 4 }, () => SIGNS[chance(SIGNS.length, random)]).join("")).join(
    "-",
  );

// Owns how long a door stays shut after wrong tries: by person and way, by device, by address, longer each time.

/** Wrong tries that cost no wait: fingers in gloves. */
const FREE = 5;
const FIRST_WAIT = 30_000;
const LONGEST_WAIT = 3_600_000;
/** Wrong PINs in a row after which only a foreman opens: NIST SP 800-63B, 5.2.2, allows no more than 100. */
const LAST = 100;
const FOREVER = 100 * 365 * 86_400_000;
/** One device or address serves many people, who each may err; what it stops is one PIN tried on everybody. */
const FREE_TOGETHER = 20;
const LONGEST_TOGETHER = 300_000;
const FORGET_TOGETHER = 3_600_000;

/** Somebody's PIN or password. A person locked on one is not locked on the other. */
export const personKey = (kind: "pin" | "password", person: string): string => `${kind}:${person}`;
export const deviceKey = (device: string): string => `device:${device}`;
export const addressKey = (address: string): string => `address:${networkOf(address)}`;

const isTogether = (key: string): boolean => /^(device|address):/.test(key);

/**
 * Milliseconds that a key is shut after so many wrong tries in a row: none at first, then twice as long each time. A password is never shut for
 * good, since anybody on the network may try it: he would shut its owner out.
 */
export const waitAfter = (key: string, tries: number): number => {
  if (key.startsWith("pin:") && tries >= LAST) return FOREVER;
  const [free, longest] = isTogether(key) ? [FREE_TOGETHER, LONGEST_TOGETHER] : [FREE, LONGEST_WAIT];
  return tries < free ? 0 : Math.min(longest, FIRST_WAIT * 2 ** Math.min(tries - free, 20));
};

/** Milliseconds after which the wrong tries of a key count no more. A person's count until he gets in or a foreman opens. */
export const forgetAfter = (key: string): number => (isTogether(key) ? FORGET_TOGETHER : Number.POSITIVE_INFINITY);

/** What stands for one place on the network: an address of version 4, or the first 64 bits of one of version 6, of which each household has 2^64. */
export const networkOf = (address: string): string => {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, "").replace(/%.*$/, "");
  if (!plain.includes(":")) return plain;
  const [head, tail] = plain.split("::").map(groupsOf);
  const [before, behind] = [head ?? [], tail ?? []];
  const gap = tail === undefined ? 0 : 8 - before.length - behind.length;
  const groups = [...before, ...Array.from({ length: gap }, () => "0"), ...behind];
  return `${groups.slice(0, 4).join(":")}::/64`;
};

/** Groups of an address of version 6, each as short as it can be said. */
const groupsOf = (part: string): string[] =>
  part
    .split(":")
    .filter((group) => group !== "")
    .map((group) => group.toLowerCase().replace(/^0+(?=.)/, ""));

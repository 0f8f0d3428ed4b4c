// Owns the words of the door in English: the names at a tablet, the PIN, passwords, what is said when the server is away.

import type { Reason } from "../../../server/index.ts";

export const door = {
  /** What the server or the ledger says, in the language of the page; English is their own. */
  said: (text: string, _phrase: Reason | undefined) => text,
  answered: (status: number) => `The server answered ${status}.`,
  moment: "One moment …",
  needsServer: "This page needs the server, and it is not reachable now.",
  needsServerMend: "What is on this device goes on working. Try again when the network is back.",
  handOver: "Hand over",
  handOverWhy: "Signs you out: the names are there for the next one.",
  cannotLeave: "The server is away: still signed in. Try again",
  people: "People",
  device: "This device",
  account: "Your account",
  signedInAs: "Signed in",
  pressed: "Keep it pressed, or press it twice",
  keepPressed: "keep pressed",
  oncePressed: "press once more",
  nav: "The shop's door",

  // The names at a tablet of the site.
  who: "Who is it?",
  whoLead: "Touch your name, then your PIN.",
  all: "All",
  initials: "Names that begin with",
  nobody: "Nobody of this site can sign in here yet.",
  nobodyMend: "A foreman adds people and gives each a start PIN: sign in by password, then People.",
  byPassword: "By password",
  names: "Back to the names",
  anotherName: "Not me",

  // The PIN.
  pinOf: (name: string) => `PIN of ${name}`,
  pinHelp: "4 to 8 digits, then Enter",
  keys: "Keys of the PIN",
  back: "Erase",
  backKey: "Erase the last digit",
  enter: "Enter",
  wrongPin: "Name and PIN do not agree.",
  wrongPinMend: "Type it again. After five wrong ones you wait.",
  wait: (until: string) => `Too many wrong ones. Shut until ${until}; a foreman can open it before.`,
  waitStill: (seconds: number) => `${seconds} s`,
  shutForGood: "Too many wrong ones. A foreman opens it, under People.",
  chooseOwn: "This was your start PIN. Choose one of your own.",
  chooseOwnHelp: "4 to 8 digits, not in a row, not one digit again and again.",
  newPin: "New PIN",
  onceMore: "The same once more.",
  notTheSame: "The two were not the same. Choose once more.",

  // By password, by passkey.
  passkey: "By passkey",
  noPasskey: "the browser gave no passkey",
  noPasskeyMend: "Try again, or sign in by password.",
  chooseOwnPassword: "This was your start password. Choose one of your own: ten characters at least.",
} as const;

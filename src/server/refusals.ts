// Owns what the server refuses with, as data: which phrase, and what it names. The English sentence is made of it last; other languages have phrases of their own.

import { PHRASES, type Phrase } from "../ledger/index.ts";
import type { QuestionFault } from "../store/index.ts";

/** What opens somebody's door, as it is said in the phrases. */
export type Secret = "PIN" | "password";

/** By its id what is wrong, in English and without its stop, of what it names. */
const WRONG = {
  notSignedIn: () => "nobody is signed in",
  ownFault: () => "a fault of the server itself",
  notAsDescribed: (faults: string) => (faults === "" ? "this is not as described" : faults),
  tooLarge: (megabytes: number) => `it is larger than ${megabytes} MB`,
  nothingThere: (path: string) => `there is nothing at ${path}`,
  otherPage: () => "another page sent this",
  tooManyListen: (most: number) => `${most} listen to this process already`,
  badPosition: () => "the position is no whole number",
  metricsClosed: () => "metrics are for this machine, or for a steward",

  // What the store says.
  notKept: (what: string) => what,
  taken: (what: string) => what,
  keptClosed: (what: string) => what,
  noPhoto: (what: string) => what,
  noVoice: (what: string) => what,
  storeFull: (what: string) => what,
  storeReadOnly: (what: string) => what,
  storeBusy: (what: string) => what,
  storeGone: (what: string) => what,
  storeUnfit: (what: string) => what,
  lastSteward: () => "nobody would keep the server any more",

  // Roles and sites.
  notOfSite: (name: string) => `${name} does not belong to this site`,
  noRoleHere: (name: string, roles: readonly string[]) => `${name} is no ${roles.join(" and no ")} here`,
  readsOnly: (name: string) => `${name} reads only`,
  foremanNowhere: (name: string) => `${name} is foreman nowhere`,
  foremanOfNone: (name: string) => `${name} is foreman of no site`,
  noSteward: (name: string) => `${name} is no steward`,
  isSteward: (name: string) => `${name} is a steward`,
  notForemanOf: (name: string, of: string) => `${name} is not foreman of ${of}`,
  otherForeman: (name: string, foreman: string) => `${name} belongs to a site whose foreman ${foreman} is not`,
  otherSites: (name: string) => `${name} belongs to other sites as well`,
  ofNoSite: (name: string) => `${name} belongs to no site`,
  oneself: () => "this is oneself",
  ownRole: () => "nobody gives himself a role or a skill",
  ownSteward: () => "nobody makes or unmakes himself a steward",
  onlyStewards: () => "only a steward makes a steward",
  afterPin: () => "after a PIN nothing of accounts is changed",
  noSite: (site: string) => `there is no site ${site}`,
  nobodyCalled: (person: string) => `nobody here is called ${person}`,
  nobodyOfSite: (person: string) => `nobody of this site is called ${person}`,
  changedSince: () => "somebody else changed it since it was read",
  changedNow: () => "somebody else changed it at this moment",
  changeUnsaid: () => "it is not said what is changed",

  // Signing in.
  notAgreeing: (secret: Secret) => `person and ${secret} do not agree`,
  shut: () => "too many wrong tries",
  shutFor: (seconds: number) => `too many wrong tries; shut for ${seconds} s more`,
  codesShutFor: (seconds: number) => `too many wrong codes; shut for ${seconds} s more`,
  manySignIn: () => "too many sign in at this moment",
  startSecret: (secret: Secret) => `this is a start ${secret}`,
  newIsStart: (secret: Secret) => `the new ${secret} is the start ${secret}`,
  startTooLate: (secret: Secret) => `the start ${secret} was not used in time`,
  secretChanged: (secret: Secret) => `the ${secret} was changed at this moment`,
  pinShape: () => "a PIN is 4 to 8 digits",
  triedFirst: (secret: Secret) => `this ${secret} is among those that are tried first`,
  passwordShort: (length: number, least: number) => `the password has ${length} characters, fewer than ${least}`,
  passwordLong: (most: number) => `the password has more than ${most} characters`,
  pinOnTablet: () => "a PIN is taken on a paired tablet of the site only",
  noOldPin: () => "neither the old PIN nor the password is given",
  noOldPassword: () => "the old password is not given",
  neitherGiven: () => "give a password, or a PIN on a paired tablet",
  wrongCode: () => "this is not the code",
  setUpAlready: () => "somebody has set it up already",
  signedInHimself: (name: string) => `${name} is signed in already`,
  noSuchSession: () => "there is no such session open",
  passwordLongAgo: () => "it is a while since the password was given",
  passkeyUnasked: () => "nobody asked for this passkey, or too long ago",
  passkeyElsewhere: () => "this is no passkey for this place",
  passkeyShut: () => "this passkey does not open here",
  passkeyKept: () => "this passkey is kept already",
  passkeyByName: () => "a passkey needs a name, not an address",
  passkeysMany: (most: number) => `there are ${most} passkeys already`,
  noPageSaid: () => "it is not said which page asks",

  // Devices.
  noDevice: (device: string) => `there is no device ${device}`,
  pairedAlready: () => "this device is paired already",
  keyNotShown: () => "the key is not shown to be this device's own",
  siteUnsaid: () => "it is not said at which site",
  tokenPairs: () => "a program's token pairs no device",
  tabletOfOther: () => "this tablet is of another site",

  // Vehicles, orders, plans.
  noVehicle: (vehicle: string) => `there is no vehicle ${vehicle}`,
  noVehicleVersion: (vehicle: string, version: number) => `there is no vehicle ${vehicle} version ${version}`,
  keptSince: () => "somebody else kept a version since",
  unsound: (faults: number) =>
    `${faults} fault${faults === 1 ? "" : "s"}: nothing is computed from it until ${faults === 1 ? "it is" : "they are"} mended`,
  notReadYet: () => "the files were not read yet: others compute",
  noOrder: (order: string) => `there is no order ${order}`,
  orderTaken: (order: string) => `there is another order called ${order}`,
  noPlanYet: (order: string) => `the order ${order} has no plan yet`,
  noLegalPlan: () => "no legal plan does this with what the order has",
  noPlanInTime: (seconds: number) => `no plan was found in the ${seconds} s that its search has`,
  filesSlow: (seconds: number) => `the vehicle's files were not read within ${seconds} s`,
  tookLonger: (seconds: number) => `it took longer than ${seconds} s`,
  needsMemory: (megabytes: number) => `it needs more than ${megabytes} MB of memory`,
  faultOfUnmoor: () => "a fault of unmoor itself, not of the question",
  diedOften: (times: number) => `whatever computed it ended without a word, ${times} times`,
  planningCancelled: () => "somebody cancelled the planning",
  orderFaults: (faults: string) => faults,
  vehicleFaults: () => "this version of the program finds faults in the vehicle file",
  crewFaults: () => "the crew file has faults",
  crewStranger: (person: string) => `the crew file names ${person}, the order does not`,
  notPrintable: (why: string) => (why === "" ? "it cannot be printed" : why),
  notComputed: (why: string) => why,
  questionGone: () => "the question was let go of",
  noQuestion: () => "there is no such question",
  questionOfOther: () => "somebody else asked this question",
  manyQuestions: (most: number) => `${most} questions of this person wait or run already`,

  // Runs.
  noRun: (run: string) => (run === "" ? "there is no such run" : `there is no run ${run}`),
  noAttached: (what: "photo" | "spoken note", digest: string) => `there is no ${what} ${digest}…`,
  entersNothing: (person: string) => `${person} may enter nothing at this site`,
  noApprover: (person: string) => `${person} is no lift approver here`,
  noEntry: (at: number, of: number) => `entry ${at} of ${of} is none`,
  severalDevices: () => "they are of several devices",
  notTaken: (faults: string) => faults,
  otherDevice: () => "that was another device",
  wasNotHere: (person: string) =>
    `${person} was not signed in on this device then; he enters his PIN and it is sent again`,
  otherPin: (person: string) => `the PIN is not that of ${person}; he enters it again`,
  otherSeal: (person: string) =>
    `the PIN was not sealed by ${person} for this tablet at that moment; he enters it again`,
};

/** By its id what would mend it, in English. */
const MENDS = {
  /** Of a room that has no phrases of its own: as it says it. */
  asItSays: (mend: string) => mend,
  /** Of the store, by the kind of what is wrong: other languages have words of their own for it. */
  lookForIt: (mend: string) => mend,
  ownOne: (mend: string) => mend,
  asPicture: (mend: string) => mend,
  asSound: (mend: string) => mend,
  keeperSees: (mend: string) => mend,
  seeDescription: () => "See /api/openapi.json.",
  seeLog: () => "It is in the server's log; tell whoever keeps it.",
  sendLess: () => "Send less.",
  sendAgain: () => "Send them again.",
  tryAgain: () => "Try again.",
  askAgain: () => "Ask again.",
  askIt: () => "Ask it.",
  askOrAgain: () => "Ask again, and it is searched for anew; or ask for less at once.",
  askLessOrLonger: () => "Ask for less, or give the search more seconds.",
  askSmaller: () => "Ask about a smaller model, or for less.",
  lookForAliases: () =>
    "Look for aliases that multiply and for what is nested very deep; else ask again when there is less to do.",
  seeMemory: () => "See whether the machines that compute have memory enough; ask for less, or again.",
  beginAgain: () => "Begin again.",
  wait: () => "Wait.",
  waitOrCancel: () => "Wait for one, or cancel one.",
  leaveOutPosition: () => "Leave it out, or give the last one seen.",
  askHere: () => "Ask for them here, or sign in.",
  signIn: () => "Sign in.",
  signInThenAsk: () => "Sign in, then ask again.",
  ownPage: () => "Do it on the server's own page.",
  ownPageOrToken: () => "Do it on the server's own page, or with a token.",
  seeList: () => "See the list.",
  seePeople: () => "See the list of people.",
  seePeopleOfSite: () => "See the people of the site.",
  seeSites: () => "See the list of sites.",
  seeRuns: () => "See the list of runs.",
  seeOrders: () => "See the list of orders.",
  readAgain: () => "Read it again.",
  readThenChange: () => "Read it again, then change that.",
  ownId: () => "Give this one an id of its own.",
  makeRoom: () => "Make room; what was acknowledged is kept.",
  makeAnotherSteward: () => "Make somebody else a steward first.",

  rolesMay: (roles: readonly string[]) => `A ${roles.join(" or a ")} may.`,
  askItsForeman: () => "Ask its foreman.",
  askForeman: () => "Ask the foreman.",
  foremanKeeps: () => "A foreman keeps vehicle files.",
  foremanGivesRoles: () => "A foreman gives roles.",
  foremanGivesHim: () => "A foreman gives him a role at his.",
  foremanOpens: () => "A foreman opens it.",
  waitOrForeman: () => "Wait, or ask a foreman to open it.",
  askOwn: () => "Ask for your own, with `person`.",
  stewardMay: () => "A steward may.",
  otherStewardMay: () => "Another steward may.",
  otherForemanMay: () => "Another foreman may, or a steward.",
  hisForemanMay: () => "His foreman may, or a steward.",
  itsForemanMay: () => "Its foreman may, or a steward.",
  otherMay: () => "Another may.",
  stewardAdds: () => "A steward adds it first.",
  stewardRenames: () => "A steward changes name and skills.",
  ownSecret: () => "Do it with your own secret.",
  byPassword: () => "Sign in by password or passkey for this.",
  sendTag: () => "Send `If-Match` with the ETag, or `If-None-Match: *`.",

  askAnotherStart: () => "Ask the foreman for another.",
  sendNext: () => "Send it again with `next`, one of your own.",
  firstHimself: (name: string) => `${name} signs in once and takes his own.`,
  takeAnother: () => "Take another.",
  takeSoMany: () => "Take so many.",
  takeWords: () => "Take several words.",
  takeOwnWords: () => "Take several words that nobody says of you.",
  takeShorter: () => "Take a shorter one.",
  withNewOne: () => "Sign in with the new one.",
  passwordOrPair: () => "Use your password here, or have the foreman pair this device.",
  giveOld: () => "Give it; who has none asks the foreman for a start secret.",
  programByPassword: () => "A program signs in by password.",
  codeAtServer: () => "It stands where the server was started; started anew, it shows another.",
  secondIsOther: () => "The second person is another one.",
  signInForPasskey: () => "Sign in again, then make the passkey.",
  againOrPassword: () => "Try again, or use the password.",
  useIt: () => "Use it to sign in.",
  byItsName: () => "Open the page by the server's name.",
  removeOne: () => "Remove one.",

  withdrawFirst: () => "Whoever paired it withdraws it first.",
  signWithIt: () => "Sign with it, as described.",
  nameOne: (sites: readonly string[]) => `Name one of: ${sites.join(", ")}.`,
  onDevice: () => "Sign in on the device itself, by password.",
  onItsTablet: () => "Confirm it on a tablet of the site.",

  keepFirst: () => "Keep its file first.",
  keepOrSend: () => "Keep its file first, or send its files.",
  readThenThat: () => "Read it, then change that.",
  orderAgain: () => "Give the order again.",
  changeOrder: () => "Change the order, or the vehicle file.",
  cannotAllHold: (rules: string) => `These cannot all hold: ${rules}`,
  sameInBoth: () => "Name the same people in both.",
  heCancels: () => "He may cancel it, or a foreman.",

  withItsDevice: () => "It comes when its device is back.",
  letterForLetter: () => "Take it from the device letter for letter.",
  eachItsOwn: () => "Each device brings its own.",
  mendAndSend: () => "Mend what is named, and send all of it again.",
};

/** All of them, in English. A language that has the same is complete. */
export const REFUSALS = { ...WRONG, ...MENDS };
export type Refusals = typeof REFUSALS;

type Of<All extends Readonly<Record<string, (...named: never[]) => string>>> = {
  readonly [Id in keyof All]: readonly [Id, ...Parameters<All[Id]>];
}[keyof All];

/** What is wrong, and what would mend it: of the server's own, or of the ledger's rules. */
export type Wrong = Of<typeof WRONG> | Phrase;
export type Mend = Of<typeof MENDS> | Phrase;
export type Reason = Wrong | Mend;

const ALL: Readonly<Record<string, unknown>> = { ...PHRASES, ...REFUSALS };

/** The English sentence of it. */
export const sayReason = ([id, ...named]: Reason): string =>
  (ALL[id] as (...named: readonly unknown[]) => string)(...named);

/** Why there is no answer, as it is kept. */
export const faultOf = (what: Wrong, mend: Mend): QuestionFault => ({
  what: sayReason(what),
  mend: sayReason(mend),
  phrases: [what, mend],
});

/** The first few of many faults, as a room says them, in a mend. */
export const saidFirst = (faults: readonly string[]): string => faults.slice(0, 3).join(" ");

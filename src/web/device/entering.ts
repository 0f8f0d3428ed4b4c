// Owns the entering of something on this device: judged by the ledger's rules as they are known here, then written; a second person's with his PIN; what only the store may take, by the store.

import {
  type Body,
  type Contradiction,
  type Entry,
  foresee,
  type GateName,
  type Phrase,
  refusalOf,
  type Subtle,
  seal,
  warningsOf,
} from "../../ledger/index.ts";
import { call, Refusal, type Said } from "../shop/calls.ts";
import { type Book, newEntryId } from "./book.ts";
import type { Line } from "./carrier.ts";
import { isFull } from "./drawer.ts";

/** `room`: the device's disk is full. `server`: only the server could take it, and it is not reached. */
export type Lack = "room" | "server";

export type Entered =
  | { readonly entries: readonly string[]; readonly warnings: readonly (Phrase | string)[] }
  | { readonly refused: Said }
  | { readonly lack: Lack }
  /** It would contradict what is entered already: whoever is sure enters it all the same. */
  | { readonly contradicts: readonly Contradiction[] };

/** @throws what is a fault of the program */
const full = (error: unknown): Entered => {
  if (!isFull(error)) throw error;
  return { lack: "room" };
};

/**
 * Enters what somebody says. When this is fulfilled it is on the device's disk.
 * @param sure whoever enters it has looked again, and stays by it: a torque that does not fit, a contradiction
 */
export const enter = async (book: Book, author: string, body: Body, sure = false): Promise<Entered> => {
  const refused = refusalOf(book.ledger, author, body, sure);
  if (refused !== undefined) return { refused };
  const contradicts = sure ? [] : foresee(book.ledger, author, body);
  if (contradicts.length > 0) return { contradicts };
  const warnings = warningsOf(book.ledger, author, body);
  try {
    const { id } = await book.write(author, body);
    return { entries: [id], warnings };
  } catch (error) {
    return full(error);
  }
};

/**
 * Enters what a second person says on a device in another's hands. Near the server his PIN is looked at now; without it the PIN is sealed, for the server's eyes
 * alone, and looked at when it is reached again.
 */
export const enterAsSecond = async (
  book: Book,
  line: Line,
  second: { readonly person: string; readonly pin: string },
  body: Body,
): Promise<Entered> => {
  const refused = refusalOf(book.ledger, second.person, body, false);
  if (refused !== undefined) return { refused };
  const id = newEntryId();
  if (line.is === "near") {
    const told = await atStore(book, { id, say: body, second });
    if (told !== undefined) return told;
  }
  const key = book.kept.sealingKey;
  const subtle = globalThis.crypto.subtle as unknown as Subtle | undefined;
  if (key === undefined || subtle === undefined) return { lack: "server" };
  // Not the id that the server may have got: if it did, he has looked twice, which contradicts nothing.
  const own = newEntryId();
  try {
    const sealed = await seal(subtle, second.pin, { person: second.person, entry: own }, key);
    const entry: Entry = await book.write(second.person, body, { id: own, seal: sealed });
    return { entries: [entry.id], warnings: [] };
  } catch (error) {
    return full(error);
  }
};

/** Passes a gate. Near the server it rules; without it the device does by what it has seen, and the passing is provisional. */
export const passGate = async (
  book: Book,
  line: Line,
  author: string,
  gate: GateName,
  lift?: string,
): Promise<Entered> => {
  const body: Body = { kind: "passed", gate, ...(lift === undefined ? {} : { lift }) };
  if (line.is === "near") {
    await allBrought(book);
    const told = await atStore(book, { id: newEntryId(), say: body });
    if (told !== undefined) return told;
  }
  return enter(book, author, { ...body, offline: true });
};

/** Milliseconds that a gate waits for what was entered just before it. */
const PATIENCE = 4_000;

/** What was entered here just now is at the server, or will not be for a while: it rules by what it has. */
const allBrought = (book: Book): Promise<void> =>
  new Promise((resolve) => {
    const done = () => {
      stop();
      clearTimeout(late);
      resolve();
    };
    const stop = book.listen(() => {
      if (book.waiting.length === 0) done();
    });
    const late = setTimeout(done, PATIENCE);
    if (book.waiting.length === 0) done();
  });

interface Outcome {
  readonly entries: readonly { readonly told: readonly string[]; readonly warnings: readonly string[] }[];
}

/** Entered by the server itself; undefined where it was not reached after all. */
const atStore = async (
  book: Book,
  said: {
    readonly id: string;
    readonly say: Body;
    readonly second?: { readonly person: string; readonly pin: string };
  },
): Promise<Entered | undefined> => {
  try {
    const { body } = await call<Outcome>("POST", `/runs/${encodeURIComponent(book.run)}/entries`, { entries: [said] });
    const [one] = body.entries;
    return { entries: [said.id], warnings: one?.warnings ?? [] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    if (error.status === 0 || error.status >= 500) return undefined;
    return { refused: error };
  }
};

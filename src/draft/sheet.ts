// Owns a vehicle file while it is changed: its lines with their outline, things found by their ids, one thing replaced by its new text.

import { Ids } from "./names.ts";
import { type Item, outlineOf, type Section } from "./outline.ts";
import { forget, isEntry, nameBeside, renameMentions, textIn, textsIn } from "./patch.ts";

/** Sections before which a new one is put, in the order of a file. */
const ORDER = ["format", "include", "vehicle", "first", "positions", "parts", "connections", "tasks", "jobs"];

export class Sheet {
  #lines: string[];
  #outline: readonly Section[] | undefined;

  constructor(text: string) {
    this.#lines = text.split("\n");
  }

  get text(): string {
    return this.#lines.join("\n");
  }

  get lines(): readonly string[] {
    return this.#lines;
  }

  get sections(): readonly Section[] {
    this.#outline ??= outlineOf(this.#lines);
    return this.#outline;
  }

  itemsOf(section: string): readonly Item[] {
    return this.sections.find(({ key }) => key === section)?.items ?? [];
  }

  /** The thing of this id, where it is written as something that can be changed here. */
  find(id: string, ...sections: readonly string[]): Item | undefined {
    for (const section of sections) {
      const item = this.itemsOf(section).find((one) => one.id === id);
      if (item !== undefined && isEntry(this.blockOf(item), id)) return item;
    }
    return undefined;
  }

  /** A thing's own lines, without the comments above it. */
  blockOf({ from, to }: { readonly from: number; readonly to: number }): string {
    return `${this.#lines.slice(from, to).join("\n")}\n`;
  }

  headOf({ head, from }: Item): readonly string[] {
    return this.#lines.slice(head, from);
  }

  /** Gives a thing other lines; none takes it away. */
  write({ head, to }: Item, above: readonly string[], block: string): void {
    this.#splice(head, to, [...above, ...linesOf(block)]);
  }

  /** Puts a thing into a section, at its end or behind another of it; the section is made where there is none. */
  add(section: string, above: readonly string[], block: string, behind?: Item): boolean {
    const found = this.sections.find(({ key }) => key === section);
    if (found === undefined) {
      this.#splice(...this.#placeOf(section), [`${section}:`, ...above, ...linesOf(block)]);
      return true;
    }
    if (found.items.length === 0 && /:\s*[^\s#]/.test(this.#lines[found.from] ?? "")) return false;
    const at = behind?.to ?? found.to;
    this.#splice(
      at,
      at,
      [...above, ...linesOf(block)].map((line) => line.replace(/^ {2}/, found.indent)),
    );
    return true;
  }

  /** Sets what stands at the top of the file under a key, on a line of its own; or takes it away. */
  setTop(key: string, source: string | undefined): void {
    const found = this.sections.find((section) => section.key === key);
    const lines = source === undefined ? [] : [`${key}: ${source}`];
    if (found !== undefined) this.#splice(found.from, found.to, lines);
    else this.#splice(...this.#placeOf(key), lines);
  }

  #placeOf(section: string): readonly [from: number, to: number] {
    const next = this.sections.find(({ key }) => ORDER.indexOf(key) > ORDER.indexOf(section));
    const at = next?.from ?? this.#end();
    return [at, at];
  }

  /** Changes whatever names an id; the thing of that id itself is left alone. */
  #mentions(id: string, change: (block: string) => string): void {
    const blocks = this.sections.flatMap(({ from, to, items }): readonly Omit<Item, "section" | "from">[] =>
      items.length === 0 ? [{ id: "", head: from, to }] : items,
    );
    const named = new RegExp(`(?<![\\w-])${id.replace(/[^\w-]/g, "\\$&")}(?![\\w-])`);
    for (const one of blocks.toReversed()) {
      const block = `${this.#lines.slice(one.head, one.to).join("\n")}\n`;
      if (one.id === id || !named.test(block)) continue;
      const changed = change(block);
      if (changed !== block) this.#splice(one.head, one.to, linesOf(changed));
    }
  }

  forget(id: string): void {
    this.#mentions(id, (block) => forget(block, id));
  }

  rename(id: string, other: string): void {
    this.#mentions(id, (block) => renameMentions(block, id, other));
  }

  nameBeside(id: string, other: string): void {
    this.#mentions(id, (block) => nameBeside(block, id, other));
  }

  /** An id that nothing in the file has. */
  fresh(label: string): string {
    const ids = new Ids();
    for (const { items } of this.sections) for (const { id } of items) ids.take(id);
    return ids.make(label);
  }

  /** Parts that are fixed: the vehicle itself. */
  fixed(): readonly string[] {
    return this.itemsOf("parts").flatMap((item) => (textIn(this.blockOf(item), "fixed") === "true" ? [item.id] : []));
  }

  /** What the jobs take out; else the first part that is not fixed. */
  assembly(): string | undefined {
    const fixed = this.fixed();
    const parts = this.itemsOf("parts").filter(({ id }) => !fixed.includes(id));
    const wanted = this.itemsOf("jobs").flatMap((item) => [...this.blockOf(item).matchAll(/\bout:\s*([^\s,\]}]+)/g)]);
    return (parts.find(({ id }) => wanted.some(([, out]) => out === id)) ?? parts[0])?.id;
  }

  /** Connections that join a part. */
  tiesOf(part: string): readonly Item[] {
    return this.itemsOf("connections").filter(
      (item) => this.blockOf(item).includes(part) && textsIn(this.blockOf(item), "joins").includes(part),
    );
  }

  #end(): number {
    let end = this.#lines.length;
    while (end > 0 && this.#lines[end - 1]?.trim() === "") end -= 1;
    return end;
  }

  #splice(from: number, to: number, lines: readonly string[]): void {
    this.#lines = [...this.#lines.slice(0, from), ...lines, ...this.#lines.slice(to)];
    this.#outline = undefined;
  }
}

const linesOf = (block: string): readonly string[] => {
  const text = block.replace(/\n$/, "");
  return text === "" ? [] : text.split("\n");
};

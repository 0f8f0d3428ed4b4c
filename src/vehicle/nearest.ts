// Owns nearest names: which of many known words a misspelt one most likely meant.

interface Branch {
  readonly next: Map<string, Branch>;
  word?: string;
}

/** Letters; nobody misspells a longer word by two of them. */
const LONGEST = 100;

/** Letters that may be wrong in a word of this length before it is another word. */
const tolerance = (length: number): number => (length <= 3 ? 1 : length <= 6 ? 2 : 3);

/**
 * Indexes words for `nearest`. The words stand in a tree by their letters, and the search leaves a branch as soon as
 * it differs in too many of them (more than `most`, or than a word of that length may), so that a file of misspelt ids costs about the same for each, however many ids it has.
 */
export function indexWords(words: Iterable<string>): (wanted: string, most?: number) => string | undefined {
  const root: Branch = { next: new Map() };
  for (const word of words) {
    if (word.length > LONGEST) continue;
    let branch = root;
    for (const letter of word.toLowerCase()) {
      let next = branch.next.get(letter);
      if (next === undefined) {
        next = { next: new Map() };
        branch.next.set(letter, next);
      }
      branch = next;
    }
    // Of two words that differ in case only the first is kept.
    branch.word ??= word;
  }

  /** Optimal string alignment (Levenshtein and the swap of neighbours), one row of the table a letter. */
  return (wanted, most = Number.POSITIVE_INFINITY) => {
    if (wanted.length > LONGEST) return undefined;
    const letters = [...wanted.toLowerCase()];
    let best: string | undefined;
    let distance = Math.min(tolerance(letters.length), most) + 1;
    const walk = (branch: Branch, row: readonly number[], before: readonly number[], letter: string): void => {
      const end = row[letters.length]!;
      if (branch.word !== undefined && end < distance) {
        distance = end;
        best = branch.word;
      }
      for (const [next, child] of branch.next) {
        const now = [row[0]! + 1];
        let least = now[0]!;
        for (let i = 1; i <= letters.length; i++) {
          let value = Math.min(row[i]! + 1, now[i - 1]! + 1, row[i - 1]! + (letters[i - 1] === next ? 0 : 1));
          if (i > 1 && letters[i - 1] === letter && letters[i - 2] === next)
            value = Math.min(value, before[i - 2]! + 1);
          now.push(value);
          if (value < least) least = value;
        }
        if (least < distance) walk(child, now, row, next);
      }
    };
    walk(root, letters.map((_, i) => i).concat(letters.length), [], "");
    return best;
  };
}

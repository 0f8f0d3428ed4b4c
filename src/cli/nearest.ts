// Owns the guess at what a misspelt word was meant to be.

/** The words nearest to `word`, best first, at most `count`; only those near enough to be worth the reader's time. */
export function findNearest(word: string, words: Iterable<string>, count = 3): string[] {
  const wanted = word.toLowerCase();
  const allowed = Math.max(1, Math.floor(wanted.length / 3));
  return [...new Set(words)]
    .map((candidate) => ({ candidate, distance: rate(wanted, candidate.toLowerCase()) }))
    .filter(({ distance }) => distance <= allowed)
    .sort((a, b) => a.distance - b.distance || a.candidate.localeCompare(b.candidate))
    .slice(0, count)
    .map(({ candidate }) => candidate);
}

/** A beginning or an ending is a likelier slip than its length says: "clutch" for "clutch-plate". */
function rate(wanted: string, candidate: string): number {
  if (wanted.length >= 3 && (candidate.startsWith(wanted) || candidate.endsWith(wanted))) return 0.5;
  return countEdits(wanted, candidate);
}

/** Edits that turn one word into the other: insert, delete, replace, swap neighbours (optimal string alignment). */
function countEdits(a: string, b: string): number {
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let edits = Math.min(above[j]! + 1, row[j - 1]! + 1, above[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) edits = Math.min(edits, before[j - 2]! + 1);
      row.push(edits);
    }
    before = above;
    above = row;
  }
  return above[b.length]!;
}

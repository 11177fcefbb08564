/** The words of a list that a mistyped word may have meant, likeliest first, at most three. */
export function nearMatches(word: string, list: readonly string[]): string[] {
  const plain = simplify(word);
  return list
    .map((candidate) => ({ candidate, edits: editDistance(plain, simplify(candidate)) }))
    .filter(({ candidate, edits }) => edits <= Math.max(1, Math.floor(candidate.length / 3)))
    .sort((a, b) => a.edits - b.edits)
    .slice(0, 3)
    .map(({ candidate }) => candidate);
}

/** Letters only, and none of them large: `Septic_Field` and `septic field` are the same slip. */
function simplify(word: string): string {
  return word
    .slice(0, 40)
    .toLowerCase()
    .replace(/[^a-z]/g, '');
}

/** Insertions, deletions and replacements from one word to the other (Levenshtein's distance). */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      next.push(
        Math.min(next[j - 1] + 1, row[j] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)),
      );
    }
    row = next;
  }
  return row[b.length];
}

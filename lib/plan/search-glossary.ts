import { glossary, type GlossaryEntry } from './glossary';
import { nearMatches } from './near-matches';
import { kindNames, type Kind } from './schema';

/** How well a name answers to what was typed; less is better. */
const exact = 0;
const begins = 1;
const wordBegins = 2;
const within = 3;
const inMeaning = 4;
const misspelt = 5;

/** Shorter words are found in too many others. Our choices. */
const fewestWithin = 3;
const fewestInMeaning = 4;
const fewestMisspelt = 4;

/**
 * The entries that answer to what somebody typed, best first: by our word, by any that people use, by their beginnings, by a
 * word of what is said of them, and at last by a slip of the keys.
 *
 * Cost: linear in the glossary, some microseconds an entry; fit for every key that is pressed.
 */
export function searchGlossary(typed: string, most = 6): GlossaryEntry[] {
  const wanted = plain(typed);
  if (wanted === '') return [];
  return glossary
    .map((entry) => ({ entry, rank: rankOf(entry, wanted) }))
    .filter(({ rank }) => rank < Infinity)
    .sort((a, b) => a.rank - b.rank)
    .slice(0, most)
    .map(({ entry }) => entry);
}

function rankOf(entry: GlossaryEntry, wanted: string): number {
  const names = [entry.term, ...entry.also, ...(entry.kind === null ? [] : [entry.kind])];
  const byName = Math.min(
    // Our own word comes before others that answer as well.
    ...names.map((name, i) => nameRank(plain(name), wanted) + (i === 0 ? 0 : 0.5)),
  );
  if (byName < Infinity) return byName;
  if (wanted.length >= fewestInMeaning && ` ${plain(entry.meaning)}`.includes(` ${wanted}`)) {
    return inMeaning;
  }
  return wanted.length >= fewestMisspelt && nearMatches(wanted, names).length > 0
    ? misspelt
    : Infinity;
}

function nameRank(name: string, wanted: string): number {
  if (name === wanted || name === `${wanted}s` || `${name}s` === wanted) return exact;
  if (name.startsWith(wanted)) return begins;
  if (name.includes(` ${wanted}`)) return wordBegins;
  return wanted.length >= fewestWithin && name.includes(wanted) ? within : Infinity;
}

/** Small letters and digits, single blanks: `Catch-Basin` and `catch basin` are one word. */
function plain(words: string): string {
  return words
    .toLowerCase()
    .replaceAll('’', "'")
    .replace(/[^\p{L}\p{N}']+/gu, ' ')
    .trim()
    .slice(0, 60);
}

/** A kind that a word may have meant, and what makes it that thing. */
export interface KindMeant {
  readonly kind: Kind;
  /** Properties beside the kind, for example the cover of a patio. */
  readonly preset: GlossaryEntry['preset'];
}

/** The kinds that an unknown one may have meant: what people call so first, then slips of the keys; at most three. */
export function kindsMeant(word: string): KindMeant[] {
  const wanted = plain(word);
  const called = glossary.flatMap((entry) =>
    entry.kind !== null &&
    [entry.term, ...entry.also].some((name) => nameRank(plain(name), wanted) === exact)
      ? [{ kind: entry.kind, preset: entry.preset }]
      : [],
  );
  if (called.length > 0) return called.slice(0, 3);
  const near = nearMatches(word, kindNames).map((name) => name as Kind);
  if (near.length > 0) return near.map((kind) => ({ kind, preset: undefined }));
  const found = searchGlossary(word).flatMap(({ kind, preset }) =>
    kind === null ? [] : [{ kind, preset }],
  );
  return found.slice(0, 2);
}

/** A kind as it is written in a plan, with what goes beside it: `surface (cover paving)`. */
export function meantWords({ kind, preset = {} }: KindMeant): string {
  const beside = Object.entries(preset).map(([name, value]) => `${name} ${String(value)}`);
  return beside.length === 0 ? kind : `${kind} (${beside.join(', ')})`;
}

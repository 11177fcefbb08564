/** A name in small letters with blanks between its words: `SewerLines_2019` gives `sewer lines 2019`. */
export function wordsOf(name: string): string {
  return name
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .toLowerCase()
    .trim();
}

/** Notes from several places as sentences, each once. */
export function sentences(...lists: readonly (readonly string[])[]): string[] {
  return [...new Set(lists.flat().map((note) => (/[.!?]$/.test(note) ? note : `${note}.`)))];
}

/** Notes as a block of text, one to a line. */
export function noteLines(notes: readonly string[]): string {
  return notes.map((note) => `Note: ${note}`).join('\n');
}

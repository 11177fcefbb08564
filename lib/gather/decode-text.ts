/** Text as read, and whether its bytes said how they are to be read. */
export interface DecodedText {
  readonly text: string;
  /** The encoding taken where the bytes are not UTF-8 and name nothing else. */
  readonly guessed: string | null;
}

const fallback = 'windows-1252';

/**
 * Bytes as text: by their byte order mark, else as UTF-8, else in the encoding named, else as Western European.
 *
 * @param named - an encoding that the file itself names; one that is not known is passed over.
 */
export function decodeText(bytes: Uint8Array, named?: string): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe)
    return { text: decoded(bytes, 'utf-16le'), guessed: null };
  if (bytes[0] === 0xfe && bytes[1] === 0xff)
    return { text: decoded(bytes, 'utf-16be'), guessed: null };
  if (named !== undefined && isEncoding(named))
    return { text: decoded(bytes, named), guessed: null };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), guessed: null };
  } catch {
    return { text: decoded(bytes, fallback), guessed: fallback };
  }
}

function decoded(bytes: Uint8Array, encoding: string): string {
  return new TextDecoder(encoding).decode(bytes);
}

function isEncoding(name: string): boolean {
  try {
    return new TextDecoder(name).encoding !== '';
  } catch {
    return false;
  }
}

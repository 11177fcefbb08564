import { refused } from './refused';

/** What a picture is, and how large, by its header alone. */
export interface PictureSize {
  readonly format: 'PNG' | 'JPEG';
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Longest side of a picture that is unpacked: larger ones fill the memory of a phone. Our choice. */
const mostSidePx = 12_000;
/** Pixels of a picture that is unpacked. Our choice. */
const mostPixels = 80e6;

const pngStart = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/** Whether a file begins as a picture that can be laid on does. */
export function isPicture(start: Uint8Array): boolean {
  return isPng(start) || isJpeg(start);
}

/**
 * The size of a PNG or JPEG, read from its header before anything is unpacked.
 *
 * @param bytes - the beginning of the file; a header lies within the first 512 kB of any that a camera or scanner writes.
 * @throws {InputError} `gather-picture` for what is neither, is cut short, or is larger than can be unpacked.
 */
export function pictureSize(name: string, bytes: Uint8Array): PictureSize {
  const found = isPng(bytes) ? pngSize(bytes) : isJpeg(bytes) ? jpegSize(bytes) : undefined;
  if (found === undefined) {
    throw refused(name, 'picture', 'it is no PNG or JPEG picture', 'save the plan as one of these');
  }
  if (found === null || found.widthPx === 0 || found.heightPx === 0) {
    throw refused(
      name,
      'picture',
      'the picture is cut short or damaged',
      'get it again from where it came',
    );
  }
  const { widthPx, heightPx } = found;
  if (Math.max(widthPx, heightPx) > mostSidePx || widthPx * heightPx > mostPixels) {
    throw refused(
      name,
      'picture',
      `the picture has ${widthPx} by ${heightPx} pixels, and ${mostSidePx} a side and ${mostPixels / 1e6} million at most are unpacked`,
      'make it smaller, or cut out the surroundings of the lot',
    );
  }
  return found;
}

function isPng(bytes: Uint8Array): boolean {
  return pngStart.every((byte, i) => bytes[i] === byte);
}

function isJpeg(bytes: Uint8Array): boolean {
  return bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff;
}

function pngSize(bytes: Uint8Array): PictureSize | null {
  if (bytes.length < 24) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  return { format: 'PNG', widthPx: view.getUint32(16), heightPx: view.getUint32(20) };
}

/** Goes from marker to marker up to the one that begins the frame. */
function jpegSize(bytes: Uint8Array): PictureSize | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 2;
  while (at + 9 <= bytes.length) {
    if (bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1];
    const isFiller = marker === 0xff;
    const beginsFrame =
      marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
    if (beginsFrame) {
      return { format: 'JPEG', widthPx: view.getUint16(at + 7), heightPx: view.getUint16(at + 5) };
    }
    at += isFiller ? 1 : 2 + view.getUint16(at + 2);
  }
  return null;
}

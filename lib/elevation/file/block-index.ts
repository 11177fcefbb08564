import type { GeoTIFFImage } from 'geotiff';
import type { CachedBytes } from '../bytes/byte-source';

/** Numbers of the tags that say where blocks begin and how long they are. */
const TAGS = { StripOffsets: 273, StripByteCounts: 279, TileOffsets: 324, TileByteCounts: 325 };

/**
 * Some of the numbers that a tag holds one of for each block.
 *
 * Long lists the TIFF library leaves in the file. It would read them number by number, and in the wrong byte order where
 * the file is big-endian, so they are read here, in one piece.
 *
 * @returns `NaN` for those that are not there; null where the file has no such tag.
 */
export async function blockNumbers(
  { image, bytes }: { readonly image: GeoTIFFImage; readonly bytes: CachedBytes },
  name: keyof typeof TAGS,
  first: number,
  count: number,
): Promise<Float64Array | null> {
  const tags = image.fileDirectory;
  if (!tags.hasTag(name)) return null;
  const out = new Float64Array(count).fill(Number.NaN);
  const list = tags.deferredArrays.get(TAGS[name]);
  if (list === undefined) {
    const values: unknown = await tags.loadValue(name);
    const all = typeof values === 'number' ? [values] : (values as ArrayLike<number | bigint>);
    for (let i = 0; i < count && first + i < all.length; i++) out[i] = Number(all[first + i]);
    return out;
  }
  const { arrayOffset, itemSize } = list;
  const present = Math.min(count, list.length - first);
  if (present <= 0) return out;
  const offset = arrayOffset + first * itemSize;
  const [piece] = await bytes.fetch([{ offset, length: present * itemSize }]);
  const view = new DataView(piece);
  for (let i = 0; (i + 1) * itemSize <= piece.byteLength; i++) {
    const at = i * itemSize;
    if (itemSize === 2) out[i] = view.getUint16(at, list.littleEndian);
    else if (itemSize === 4) out[i] = view.getUint32(at, list.littleEndian);
    else out[i] = Number(view.getBigUint64(at, list.littleEndian));
  }
  return out;
}

import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { Crc32 } from '../../../../lib/elevation/bytes/crc32';
import { elevationIdentity } from '../../../../lib/elevation/file/elevation-identity';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readPlan } from '../../../../lib/plan/read-plan';

const sumOf = (...pieces: Uint8Array[]): string => {
  const sum = new Crc32();
  for (const piece of pieces) sum.add(piece);
  return sum.digits;
};
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('the checksum of a file', () => {
  // Check values of the CRC catalogue (123456789) and of Python 3's zlib.crc32 (the others).
  it.each([
    ['', '00000000'],
    ['a', 'e8b7be43'],
    ['abc', '352441c2'],
    ['123456789', 'cbf43926'],
    ['The quick brown fox jumps over the lazy dog', '414fa339'],
  ])('of %o is %s', (text, digits) => {
    expect(sumOf(bytes(text))).toBe(digits);
  });

  it('is the same however the bytes are cut', () => {
    const all = bytes('contour lines close somewhere');
    for (let at = 0; at <= all.length; at++) {
      expect(sumOf(all.subarray(0, at), all.subarray(at))).toBe(sumOf(all));
    }
  });
});

describe('the identity of an elevation file', () => {
  it('is name, size and checksum; one changed byte is another file', async () => {
    const path = 'fixtures/demo/lot.elevation.tif';
    const named = { name: 'lot.elevation.tif', path };
    const whole = new Uint8Array(await readFile(path));
    const identity = await elevationIdentity(await openElevation(named), true);
    expect(identity).toEqual({
      name: 'lot.elevation.tif',
      sizeBytes: whole.length,
      crc32: sumOf(whole),
    });
    const changed = whole.slice();
    changed[changed.length - 100] ^= 1;
    const other = await openElevation({ name: 'lot.elevation.tif', blob: new Blob([changed]) });
    expect((await elevationIdentity(other, true)).crc32).not.toBe(identity.crc32);
  });

  it('of the demo is what its plan names', async () => {
    const path = 'fixtures/demo/lot.elevation.tif';
    const file = await openElevation({ name: 'lot.elevation.tif', path });
    const { plan } = readPlan(await readFile('fixtures/demo/lot.plan.geojson', 'utf8'), 'demo');
    const { sizeBytes, crc32 } = await elevationIdentity(file, true);
    expect(plan.lotfall.elevation).toMatchObject({ size_bytes: sizeBytes, crc32 });
  });

  it('of a file that is not at hand has no checksum', async () => {
    const path = 'fixtures/demo/lot.elevation.tif';
    const file = await openElevation({ name: 'lot.elevation.tif', path });
    expect((await elevationIdentity(file, false)).crc32).toBeNull();
  });
});

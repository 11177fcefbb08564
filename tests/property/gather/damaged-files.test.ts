import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import { readFound } from '../../../lib/gather/read-found';

const folder = 'fixtures/gather';
const files = readdirSync(folder).filter((name) => !/\.(py|md)$/.test(name));

/** The file is read or refused in a sentence; nothing else may come of it. */
async function isReadOrRefused(name: string, bytes: Uint8Array): Promise<void> {
  try {
    const { layers } = await readFound({ name, bytes });
    expect(Array.isArray(layers)).toBe(true);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    expect((error as InputError).message).toMatch(/^[^\n]+: [^\n]+; [^\n]+\.$/);
  }
}

describe.each(files)('%s', (name) => {
  const whole = new Uint8Array(readFileSync(`${folder}/${name}`));

  it('cut anywhere is read or refused in a sentence', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: whole.length }), (length) =>
        isReadOrRefused(name, whole.slice(0, length)),
      ),
      { numRuns: 60, seed: 7 },
    );
  });

  it('with wrong bytes in it is read or refused in a sentence', async () => {
    const change = fc.tuple(
      fc.integer({ min: 0, max: whole.length - 1 }),
      fc.integer({ min: 0, max: 255 }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 12 }), (changes) => {
        const bytes = whole.slice();
        for (const [at, byte] of changes) bytes[at] = byte;
        return isReadOrRefused(name, bytes);
      }),
      { numRuns: 120, seed: 7 },
    );
  });
});

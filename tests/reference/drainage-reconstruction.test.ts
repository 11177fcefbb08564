import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildTerrain } from '../../lib/drainage/terrain/terrain';

interface Fixture {
  readonly cases: readonly {
    readonly name: string;
    readonly width: number;
    readonly height: number;
    readonly ground: string;
    readonly filled: string;
  }[];
}

const file = new URL('../../fixtures/reference/filled-surface.json', import.meta.url);
const fixture = JSON.parse(readFileSync(file, 'utf8')) as Fixture;

function unpacked(base64: string): Float32Array {
  return new Float32Array(Uint8Array.from(Buffer.from(base64, 'base64')).buffer);
}

describe('filled surface against morphological reconstruction by another program', () => {
  it.each(fixture.cases)('$name', ({ width, height, ground, filled }) => {
    const z = unpacked(ground);
    expect(z.length).toBe(width * height);
    expect(buildTerrain(z, width, height).filled).toEqual(unpacked(filled));
  });
});

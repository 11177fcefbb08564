import { describe, expect, it } from 'vitest';
import { likelihood } from '../../../lib/drainage/certainty/likelihood-words';
import { probabilityImage, probabilitySteps } from '../../../src/app/map/images/probability-image';

const size = 24;

/** Probability by column and row. */
function field(at: (column: number, row: number) => number): Float32Array {
  return Float32Array.from({ length: size * size }, (_, i) => at(i % size, Math.floor(i / size)));
}

function drawn(probability: Float32Array, scale = 10) {
  const made = probabilityImage(probability, size, size, { theme: 'paper', scale });
  if (made === null) throw new Error('expected an image');
  return made;
}

/** Share of an inner square's pixels that are inked: lines or filled. */
function inkIn(probability: number): number {
  const { image } = drawn(field((x, y) => (x > 2 && x < 20 && y > 2 && y < 20 ? probability : 0)));
  let inked = 0;
  const from = 50;
  const to = image.width - 50;
  for (let y = from; y < to; y++) {
    for (let x = from; x < to; x++) if (image.data[(y * image.width + x) * 4 + 3] > 100) inked++;
  }
  return inked / (to - from) ** 2;
}

describe('probabilityImage', () => {
  it('is null where standing water is very unlikely everywhere', () => {
    expect(
      probabilityImage(
        field(() => 0.09),
        size,
        size,
        { theme: 'paper' },
      ),
    ).toBeNull();
  });

  it('covers the cells that reach the first step, and one more on each side', () => {
    const one = field((x, y) => (x === 10 && y === 4 ? 0.5 : 0));
    expect(drawn(one).window).toEqual({ column: 9, row: 3, columns: 3, rows: 3 });
    const corner = field((x, y) => (x === 0 && y === size - 1 ? 1 : 0));
    expect(drawn(corner).window).toEqual({ column: 0, row: size - 2, columns: 2, rows: 2 });
  });

  it('is inked the more the likelier, up to all of it: it reads without colour', () => {
    const inks = [0.2, 0.5, 0.8, 0.95].map(inkIn);
    for (let i = 1; i < inks.length; i++) expect(inks[i]).toBeGreaterThan(inks[i - 1] * 1.5);
    expect(inks[3]).toBe(1);
    expect(inks[0]).toBeLessThan(0.2);
  });

  it('has one hue', () => {
    const { image } = drawn(field((x) => x / size));
    const hues = new Set<string>();
    for (let at = 0; at < image.data.length; at += 4) {
      if (image.data[at + 3] > 0) hues.add(image.data.slice(at, at + 3).join());
    }
    expect(hues.size).toBe(1);
  });

  it('draws a line where a step begins', () => {
    // From 0.5 to 0.7 across: the step at 0.66 lies four fifths of the way.
    const { image } = drawn(field((x) => 0.5 + (0.2 * (x + 0.5)) / size));
    const columns = new Set<number>();
    for (let at = 3; at < image.data.length; at += 4) {
      if (image.data[at] === 255) columns.add(((at - 3) / 4) % image.width);
    }
    expect([...columns].every((x) => Math.abs(x / image.width - 0.8) < 0.01)).toBe(true);
    expect(columns.size).toBeGreaterThan(0);
  });

  it('has the steps of the words', () => {
    for (const { from, words } of probabilitySteps) {
      expect(likelihood(from + 1e-9)).toBe(words);
      expect(likelihood(from - 1e-9)).not.toBe(words);
    }
  });
});

import { describe, expect, it } from 'vitest';
import { surfaceModelNotes } from '../../../../lib/elevation/window/surface-model';
import { groundOf } from '../../ground/plane-lot';

/** A hillside, and on it houses of 8 by 10 m with ridged roofs, every 30 m. */
const hill = (x: number, y: number): number => 40 + 0.06 * x - 0.03 * y;
function roof(x: number, y: number): number {
  const [u, v] = [((x % 30) + 30) % 30, ((y % 30) + 30) % 30];
  return u < 8 && v < 10 ? 5 + 0.5 * (4 - Math.abs(u - 4)) : 0;
}

function said(heightM: (x: number, y: number) => number, cellM = 0.5): string {
  return surfaceModelNotes({ ...groundOf(120, 120, cellM, heightM), datumM: 0 })
    .map(({ text, atTop }) => `${atTop ? 'top: ' : ''}${text}`)
    .join();
}

describe('heights that are not the bare earth', () => {
  it.each([0.5, 1, 2])('roofs standing in them are noticed, cells of %s m', (cellM) => {
    expect(said((x, y) => hill(x, y) + roof(x, y), cellM)).toMatch(
      /^top: This looks like a surface model: .* water would run over them/,
    );
  });

  it('the same without the ground are heights above it', () => {
    expect(said(roof)).toMatch(/^top: These look like heights above the ground, not elevation/);
  });

  it('so is one house in a wide window', () => {
    const one = (x: number, y: number): number =>
      x > 30 && x < 60 && y > 30 && y < 60 ? roof(x, y) : 0;
    expect(said((x, y) => hill(x, y) + one(x, y))).toMatch(/surface model/);
  });

  it.each<[string, (x: number, y: number) => number]>([
    ['a hillside', hill],
    ['flat ground at sea level', (x) => 0.1 * Math.sin(x / 9)],
    ['terraces behind walls of 2 m', (x) => 2 * Math.floor(x / 12)],
    ['a quarry with a wall of 15 m', (x, y) => (Math.hypot(x, y) < 25 ? 5 : 20)],
    ['a slope steeper than 45 degrees', (x, y) => 1.3 * x + 0.2 * Math.sin(y)],
    ['a railway bank across it', (x) => 6 * Math.max(0, 1 - Math.max(0, Math.abs(x) - 4) / 9)],
    ['steps of whole metres', (x, y) => Math.round(hill(x, y))],
  ])('%s is bare earth', (_, heightM) => {
    for (const cellM of [0.5, 1, 2]) expect(said(heightM, cellM)).toBe('');
  });
});

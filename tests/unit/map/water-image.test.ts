import { describe, expect, it } from 'vitest';
import { channels, inkOf } from '../../../src/app/look/ink';
import { depthStepsM, waterImage } from '../../../src/app/map/images/water-image';

const size = 20;

function pool(depthM: (column: number, row: number) => number): Float32Array {
  return Float32Array.from({ length: size * size }, (_, i) =>
    depthM(i % size, Math.floor(i / size)),
  );
}

function bowl(deepestM: number): Float32Array {
  return pool((x, y) => Math.max(0, deepestM * (1 - Math.hypot(x - 10, y - 9) / 5)));
}

describe('waterImage', () => {
  it.each([
    ['dry ground', 0],
    ['no data', Number.NaN],
    ['a film', 0.001],
  ])('is null for %s', (_, depthM) => {
    const everywhere = pool(() => depthM);
    expect(waterImage(everywhere, size, size, { theme: 'paper' })).toBeNull();
  });

  it('is faint where water is not to be reckoned with, and only there', () => {
    const scale = 4;
    const sure = new Uint8Array(size * size).fill(1);
    sure[9 * size + 10] = 0;
    const whole = waterImage(bowl(0.3), size, size, { theme: 'paper', scale });
    const faded = waterImage(bowl(0.3), size, size, { theme: 'paper', scale, sure });
    if (whole === null || faded === null) throw new Error('expected water');
    const { image, window } = whole;
    for (let i = 3; i < image.data.length; i += 4) {
      const pixel = (i - 3) / 4;
      const column = window.column + Math.floor((pixel % image.width) / scale);
      const row = window.row + Math.floor(Math.floor(pixel / image.width) / scale);
      const share = column === 10 && row === 9 ? 0.3 : 1;
      expect(Math.abs(faded.image.data[i] - share * image.data[i])).toBeLessThanOrEqual(1);
    }
  });

  it('covers the wet cells and one more on each side', () => {
    const made = waterImage(bowl(0.3), size, size, { theme: 'paper', scale: 4 });
    expect(made?.window).toEqual({ column: 5, row: 4, columns: 11, rows: 11 });
    expect(made?.image.width).toBe(44);
    expect(made?.image.data).toHaveLength(44 * 44 * 4);
  });

  it('is clear outside the shore, deep ink in the deepest part and darker with every step inwards', () => {
    const scale = 60;
    const made = waterImage(bowl(1.2), size, size, { theme: 'paper', scale });
    if (made === null) throw new Error('expected water');
    const { image, window } = made;
    const at = (column: number, row: number): number[] => {
      const x = Math.round((column - window.column + 0.5) * scale);
      const y = Math.round((row - window.row + 0.5) * scale);
      return [...image.data.slice((y * image.width + x) * 4, (y * image.width + x) * 4 + 4)];
    };
    expect(image.data[3]).toBe(0);
    const deep = channels(inkOf('paper').water);
    expect(at(10, 9).slice(0, 3)).toEqual(deep);
    const row = Math.round((9 - window.row + 0.5) * scale) * image.width;
    const middle = Math.round((10 - window.column + 0.5) * scale);
    const reds: number[] = [];
    for (let x = image.width - 1; x > middle; x--) {
      const index = (row + x) * 4;
      // Lines have the deepest ink whatever step they bound.
      if (image.data[index + 3] > 0 && image.data[index] !== deep[0]) reds.push(image.data[index]);
    }
    expect(new Set(reds).size).toBe(depthStepsM.length);
    expect(reds).toEqual([...reds].sort((a, b) => b - a));
  });

  it('draws a shore and one closed line for each depth step that is reached', () => {
    const deepestM = 0.3;
    const made = waterImage(bowl(deepestM), size, size, { theme: 'paper', scale: 12 });
    if (made === null) throw new Error('expected water');
    const { image, window } = made;
    const [lineRed] = channels(inkOf('paper').water);
    const y = Math.round((9 - window.row + 0.5) * 12);
    let lines = 0;
    let onLine = false;
    for (let x = 0; x < image.width; x++) {
      const index = (y * image.width + x) * 4;
      const isLine = image.data[index + 3] > 0 && image.data[index] === lineRed;
      if (isLine && !onLine) lines++;
      onLine = isLine;
    }
    const reached = depthStepsM.filter((step) => step < deepestM).length;
    // Each is crossed going in and coming out.
    expect(lines).toBe(2 * (reached + 1));
  });

  it('draws as much water as there are wet cells, not a rim of dry ones as well', () => {
    const scale = 10;
    const made = waterImage(
      pool((x, y) => (x >= 5 && x < 13 && y >= 5 && y < 13 ? 0.3 : 0)),
      size,
      size,
      { theme: 'paper', scale },
    );
    if (made === null) throw new Error('expected water');
    let wet = 0;
    for (let i = 3; i < made.image.data.length; i += 4) if (made.image.data[i] > 0) wet++;
    expect(wet / scale ** 2).toBeGreaterThan(60);
    expect(wet / scale ** 2).toBeLessThan(66);
  });

  it('treats the edge of the grid like dry ground', () => {
    const made = waterImage(
      pool((x) => (x < 3 ? 0.2 : 0)),
      size,
      size,
      { theme: 'dark', scale: 2 },
    );
    expect(made?.window).toEqual({ column: 0, row: 0, columns: 4, rows: 20 });
  });

  it('lowers the scale rather than make a huge image', () => {
    const depthM = new Float32Array(1000 * 1000).fill(0.2);
    const made = waterImage(depthM, 1000, 1000, { theme: 'paper', scale: 6 });
    expect(made?.image.width).toBe(1000);
  });
});

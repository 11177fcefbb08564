import { describe, expect, it } from 'vitest';
import {
  doubtfulBelowM,
  elevationKinds,
  errorsOf,
  usualKind,
} from '../../../lib/drainage/height-error/error-defaults';
import {
  addError,
  correlation,
  type ErrorModel,
} from '../../../lib/drainage/height-error/error-field';
import { NormalNumbers } from '../../../lib/drainage/height-error/normal-numbers';
import { Workspace } from '../../../lib/drainage/terrain/workspace';

/** Error alone, on level ground at height 0. */
function fieldOf(
  side: number,
  errors: ErrorModel,
  index: number,
  seed = 1,
  workspace = new Workspace(),
): Float32Array {
  const out = new Float32Array(side * side);
  const level = { z: new Float32Array(side * side), width: side, height: side, cellM: 0.5 };
  addError(level, errors, { seed, index }, out, workspace);
  return out;
}

const short: ErrorModel = { shortM: 0.03, shortRangeM: 5, longM: 0, longRangeM: 100 };
const both: ErrorModel = { shortM: 0.03, shortRangeM: 5, longM: 0.09, longRangeM: 60 };

/** Standard normal distribution function, Abramowitz and Stegun 26.2.17 (from memory): exact to 1e-7. */
function normalBelow(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail =
    (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return x > 0 ? 1 - tail : tail;
}

describe('normal numbers', () => {
  const numbers = new Float32Array(2_000_000);
  new NormalNumbers(20, 3).fill(numbers);
  const below = (x: number): number => {
    let count = 0;
    for (let i = 0; i < numbers.length; i++) if (numbers[i] < x) count++;
    return count / numbers.length;
  };

  it.each([-3.6, -3, -2, -1, -0.2, 0, 0.5, 1.5, 2.5, 3.443, 4])(
    'lie below %f as often as the normal distribution says',
    (x) => {
      const p = normalBelow(x);
      const error = Math.sqrt((p * (1 - p)) / numbers.length);
      expect(Math.abs(below(x) - p)).toBeLessThan(4 * error + 1e-7);
    },
  );

  it('differ from stream to stream and from seed to seed, without correlation', () => {
    const take = (seed: number, stream: number): Float32Array => {
      const out = new Float32Array(100_000);
      new NormalNumbers(seed, stream).fill(out);
      return out;
    };
    const first = take(1, 1);
    for (const other of [take(1, 2), take(2, 1), take(1 + 2 ** 32, 1)]) {
      let product = 0;
      for (let i = 0; i < first.length; i++) product += (first[i] * other[i]) / first.length;
      expect(Math.abs(product)).toBeLessThan(4 / Math.sqrt(first.length));
    }
  });
});

describe('an error field', () => {
  it('depends on seed and index alone, not on what the workspace held', () => {
    const workspace = new Workspace();
    const fresh = fieldOf(40, both, 7);
    fieldOf(64, both, 3, 1, workspace);
    expect(fieldOf(40, both, 7, 1, workspace)).toEqual(fresh);
    expect(fieldOf(40, both, 8)).not.toEqual(fresh);
    expect(fieldOf(40, both, 7, 2)).not.toEqual(fresh);
  });

  it.each([
    ['short-range part', short],
    ['both parts', both],
  ])('has the stated variance at every corner, edge and in the middle: %s', (_, errors) => {
    const side = 12;
    const surfaces = 6000;
    const squares = new Float64Array(side * side);
    for (let index = 0; index < surfaces; index++) {
      const field = fieldOf(side, errors, index);
      for (let i = 0; i < squares.length; i++) squares[i] += field[i] ** 2 / surfaces;
    }
    const whole = errors.shortM ** 2 + errors.longM ** 2;
    for (const at of [0, side - 1, side * side - 1, 5, 6 * side, 6 * side + 6]) {
      // The variance of a variance: 2 / n.
      expect(Math.abs(squares[at] / whole - 1)).toBeLessThan(4 * Math.sqrt(2 / surfaces));
    }
  });

  it.each([
    ['short-range part', short, 0.04],
    ['both parts', both, 0.06],
  ])('has the correlation of its model: %s', (_, errors, within) => {
    const side = 60;
    const surfaces = 400;
    const lags = [
      [1, 0],
      [0, 1],
      [1, 1],
      [4, 0],
      [0, 4],
      [6, 3],
    ] as const;
    const products = new Float64Array(lags.length);
    for (let index = 0; index < surfaces; index++) {
      const field = fieldOf(side, errors, index, 5);
      lags.forEach(([east, south], lag) => {
        let sum = 0;
        for (let row = 0; row < side - 6; row++) {
          for (let column = 0; column < side - 6; column++) {
            sum += field[row * side + column] * field[(row + south) * side + column + east];
          }
        }
        products[lag] += sum / (side - 6) ** 2 / surfaces;
      });
    }
    const { shortM, shortRangeM, longM, longRangeM } = errors;
    lags.forEach(([east, south], lag) => {
      const wanted =
        shortM ** 2 * correlation(shortRangeM, east / 2, south / 2) +
        longM ** 2 * correlation(longRangeM, east / 2, south / 2);
      expect(Math.abs(products[lag] - wanted) / (shortM ** 2 + longM ** 2)).toBeLessThan(within);
    });
  });

  it('makes the lower of two heights the higher as often as the normal distribution says', () => {
    const surfaces = 8000;
    const errors = { ...short, shortM: 0.1 };
    const riseM = 0.05;
    let swapped = 0;
    for (let index = 0; index < surfaces; index++) {
      const field = fieldOf(3, errors, index, 9);
      if (field[3] > field[5] + riseM) swapped++;
    }
    const spread = errors.shortM * Math.sqrt(2 * (1 - correlation(errors.shortRangeM, 1, 0)));
    const p = normalBelow(-riseM / spread);
    expect(Math.abs(swapped / surfaces - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / surfaces));
  });

  it('leaves cells without data without, and lifts the others', () => {
    const z = Float32Array.of(5, Number.NaN, 7, 8);
    const out = new Float32Array(4);
    const none = { shortM: 0, shortRangeM: 5, longM: 0, longRangeM: 9 };
    const grid = { z, width: 2, height: 2, cellM: 1 };
    addError(grid, none, { seed: 1, index: 0 }, out, new Workspace(), 3);
    expect(out).toEqual(Float32Array.of(8, Number.NaN, 10, 11));
  });
});

describe('usual errors', () => {
  it('split the stated error so that both parts make up the whole', () => {
    for (const rmseM of [0, 0.05, 0.1, 2]) {
      const { shortM, longM } = errorsOf(0.5, { rmseM });
      expect(Math.hypot(shortM, longM)).toBeCloseTo(rmseM, 12);
    }
    expect(errorsOf(0.5, { rmseM: 0.1, shortM: 0.4 })).toMatchObject({ shortM: 0.1, longM: 0 });
  });

  it('take coarse cells for coarse data with errors that reach far', () => {
    expect(errorsOf(10).longRangeM).toBeGreaterThan(errorsOf(1).longRangeM);
    expect(errorsOf(10).shortM).toBeGreaterThan(errorsOf(1).shortM);
  });

  it('name the limits of the lidar quality levels', () => {
    expect(elevationKinds.map(({ rmseM }) => rmseM)).toEqual([0.05, 0.1, 0.1, 0.2]);
  });

  it('doubt a low spot by the error of the difference of two heights as it is drawn', () => {
    const errors = errorsOf(0.5, { rmseM: 0.1 });
    const surfaces = 3000;
    let squares = 0;
    for (let index = 0; index < surfaces; index++) {
      const field = fieldOf(9, errors, index, 3);
      // 2.5 m east and 1.5 m south.
      squares += (field[0] - field[3 * 9 + 5]) ** 2 / surfaces;
    }
    expect(doubtfulBelowM(errors, 2.5, -1.5) / 2.5 / Math.sqrt(squares)).toBeCloseTo(1, 1);
    expect(doubtfulBelowM(errors, 0, 0)).toBe(0);
  });

  it('are one rule for every cell size: what is stated counts, else the kind of data', () => {
    for (const cellM of [0.5, 1, 3, 5, 30]) {
      const { shortM, longM } = errorsOf(cellM);
      expect(Math.hypot(shortM, longM)).toBeCloseTo(usualKind(cellM).rmseM, 12);
      const stated = errorsOf(cellM, { rmseM: 0.2 });
      expect(Math.hypot(stated.shortM, stated.longM)).toBeCloseTo(0.2, 12);
    }
    expect(usualKind(10).rmseM).toBeGreaterThan(usualKind(1).rmseM);
  });
});

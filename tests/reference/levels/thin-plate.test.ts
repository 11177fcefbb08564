import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { thinPlate, type Sample } from '../../../lib/levels/thin-plate';

interface Case {
  readonly places: readonly [number, number][];
  readonly heights: readonly number[];
  readonly asked: readonly [number, number][];
  readonly values: readonly number[];
  readonly left_out: readonly number[];
}

const cases = JSON.parse(
  readFileSync(new URL('../../../fixtures/reference/thin-plate.json', import.meta.url), 'utf8'),
) as Case[];

it.each(cases.map((each) => [each.places.length, each] as const))(
  'a surface through %i levels is that of another library, and so is what each is foretold as',
  (_, { places, heights, asked, values, left_out }) => {
    const samples = places.map((at, i): Sample => ({ at, valueM: heights[i], line: null }));
    const surface = thinPlate(samples, 0);
    if (surface === null) throw new Error('no surface');
    asked.forEach(([x, y], i) => {
      expect(surface.at(x, y)).toBeCloseTo(values[i], 9);
    });
    left_out.forEach((off, i) => {
      expect(surface.leftOutM[i]).toBeCloseTo(off, 7);
    });
  },
);

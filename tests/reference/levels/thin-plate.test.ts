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

type Ground = (x: number, y: number) => number;
const grounds: readonly [string, Ground, number][] = [
  ['a plane', (x, y) => 12 + 0.03 * x - 0.02 * y, 1e-9],
  ['a cone of one in twenty, at its tip too', (x, y) => 3 - 0.05 * Math.hypot(x - 8, y - 6), 0.03],
  ['a bowl of 30 cm', (x, y) => 0.3 * (((x - 8) / 8) ** 2 + ((y - 6) / 8) ** 2), 0.004],
];

it.each(grounds)(
  '%s read every two metres comes back between the levels',
  (_, height, mostOffM) => {
    const samples: Sample[] = [];
    for (let x = 0; x <= 16; x += 2) {
      for (let y = 0; y <= 12; y += 2)
        samples.push({ at: [x, y], valueM: height(x, y), line: null });
    }
    const surface = thinPlate(samples, 0);
    if (surface === null) throw new Error('no surface');
    let worst = 0;
    for (let x = 2.5; x <= 13.5; x += 0.5) {
      for (let y = 2.5; y <= 9.5; y += 0.5) {
        worst = Math.max(worst, Math.abs(surface.at(x, y) - height(x, y)));
      }
    }
    expect(worst).toBeLessThan(mostOffM);
    // Each level is foretold as by a surface made from the others.
    const left = samples.filter((_each, i) => i !== 31);
    const others = thinPlate(left, 0);
    const { at, valueM } = samples[31];
    expect(surface.leftOutM[31]).toBeCloseTo(valueM - (others?.at(...at) ?? Number.NaN), 8);
  },
);

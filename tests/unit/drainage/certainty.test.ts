import { describe, expect, it } from 'vitest';
import {
  certainty,
  prepareCertainty,
  type CertaintyInput,
} from '../../../lib/drainage/certainty/certainty';
import { isSettled, summarise } from '../../../lib/drainage/certainty/certainty-result';
import { untilSettled } from '../../../lib/drainage/certainty/certainty-rounds';
import {
  emptyTallies,
  mergeTallies,
  type Tallies,
} from '../../../lib/drainage/certainty/certainty-tallies';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { correlation, type ErrorModel } from '../../../lib/drainage/height-error/error-field';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import { likelihood, likelihoodWords } from '../../../lib/drainage/certainty/likelihood-words';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { Cancelled } from '../../../lib/errors';
import { box, groundOf, lineOf, planOf, polygonOf } from '../ground/plane-lot';

const noError: ErrorModel = { shortM: 0, shortRangeM: 5, longM: 0, longRangeM: 100 };

/** A lot on a slope with a dent by the house, one in the open and a basin. */
function lotWithDents(errors: ErrorModel, seed = 1): CertaintyInput {
  const dent = (x: number, y: number, atX: number, atY: number, depthM: number): number =>
    Math.max(0, depthM * (1 - Math.hypot(x - atX, y - atY) / 5));
  const elevation = groundOf(
    50,
    50,
    0.5,
    (x, y) => 4 + 0.02 * y - dent(x, y, 20, 32, 0.5) - dent(x, y, 36, 30, 0.35),
  );
  const plan = planOf([
    polygonOf('own', box(8, 4, 44, 46), { kind: 'lot', own: true }),
    polygonOf('house', box(14, 20, 24, 30), { kind: 'building', name: 'House' }),
    polygonOf('basin', box(32, 12, 37, 16), { kind: 'basin' }),
    lineOf(
      'wall',
      [
        [10, 10],
        [10, 40],
      ],
      { kind: 'wall' },
    ),
  ]);
  return { elevation, plan, rainMm: 60, errors, seed };
}

function tallyOf(input: CertaintyInput, ...ranges: readonly [number, number][]): Tallies {
  return mergeTallies(ranges.map(([from, to]) => certainty(prepareCertainty(input), { from, to })));
}

describe('equally likely surfaces', () => {
  const errors = errorsOf(0.5, { rmseM: 0.1 });

  it('without error are all the ground as read: probabilities are 0 or 1 and figures the drainage result’s', () => {
    const input = lotWithDents(noError);
    const study = prepareCertainty(input);
    const tallies = certainty(study, { from: 0, to: 6 });
    const found = summarise(study, tallies);
    const shape = shapeGround(input.elevation, input.plan);
    const storm = stormOnGround(shape, input.plan, input.rainMm);
    const result = drainLot(shape, storm, input.plan, { crs: '', rmseM: 0 });

    expect(found.low_spots.map(({ id }) => id)).toEqual(result.low_spots.map(({ id }) => id));
    expect(found.low_spots.length).toBe(3);
    result.low_spots.forEach((spot, i) => {
      expect(found.low_spots[i].probability).toBe(1);
      for (const area of [found.low_spots[i].area_m2_5, found.low_spots[i].area_m2_95]) {
        expect(area).toBeCloseTo(spot.area_m2, 4);
      }
      expect(found.low_spots[i].volume_m3_5).toBeCloseTo(spot.volume_m3, 4);
    });
    for (let cell = 0; cell < storm.depthM.length; cell++) {
      expect(tallies.wet[cell]).toBe(storm.depthM[cell] > 0.01 ? 6 : 0);
    }
    expect(result.buildings[0].wall_m).toBeGreaterThan(1);
    expect(found.buildings[0]).toMatchObject({ building: 'house', name: 'House', probability: 1 });
    expect(found.buildings[0].wall_m_5).toBeCloseTo(result.buildings[0].wall_m, 4);
    const [basin] = result.basins;
    expect(found.basins[0].probability).toBe(
      basin.standing_m3 >= basin.cells_hold_m3 - 1e-6 ? 1 : 0,
    );
    expect(found.basins[0].drains_m2_5).toBe(found.basins[0].drains_m2);
    expect(found.settled).toBe(false);
  });

  it('do not depend on how they are shared out: parts merged are the whole', () => {
    const input = lotWithDents(errors);
    const whole = tallyOf(input, [0, 12]);
    expect(tallyOf(input, [5, 12], [0, 2], [2, 5])).toEqual(whole);
    expect(tallyOf(input, [0, 12])).toEqual(whole);
    expect(tallyOf(lotWithDents(errors, 2), [0, 12]).wet).not.toEqual(whole.wet);
    expect([...whole.indices]).toEqual([...Array(12).keys()]);
  });

  it('may not be counted twice', () => {
    const input = lotWithDents(errors);
    expect(() => tallyOf(input, [0, 2], [1, 3])).toThrow('surface 1 is counted twice');
  });

  it('keep what the plan builds: basin and house stand on every surface as drawn', () => {
    const study = prepareCertainty(lotWithDents(errors));
    const tallies = certainty(study, { from: 0, to: 10 });
    const basin = study.spots.findIndex(({ id }) => {
      const [, column, row] = id.split('-').map(Number);
      return column >= 64 && column <= 74 && row >= 68 && row <= 76;
    });
    expect(basin).not.toBe(-1);
    for (let row = 0; row < 10; row++) {
      expect(tallies.spotIsThere[row * study.spots.length + basin]).toBe(1);
    }
  });

  it('say less of a shallow low spot than of a deep one', () => {
    const input = lotWithDents(errors);
    const study = prepareCertainty({
      ...input,
      elevation: groundOf(50, 50, 0.5, (x, y) => {
        const deep = Math.max(0, 1 - Math.hypot(x - 36, y - 34) / 4);
        const shallow = Math.max(0, 0.14 * (1 - Math.hypot(x - 36, y - 24) / 4));
        return 4 + 0.02 * y - deep - shallow;
      }),
      plan: planOf([]),
    });
    const { low_spots } = summarise(study, certainty(study, { from: 0, to: 60 }));
    expect(low_spots.length).toBe(2);
    expect(low_spots[0].probability).toBeGreaterThan(0.97);
    expect(low_spots[1].probability).toBeLessThan(0.9);
    expect(low_spots[0].volume_m3_5).toBeLessThan(low_spots[0].volume_m3_95 ?? 0);
  });

  it('stop when cancelled and tell how far they are', () => {
    const study = prepareCertainty(lotWithDents(errors));
    const controller = new AbortController();
    const seen: number[] = [];
    const run = (): Tallies =>
      certainty(study, {
        from: 0,
        to: 8,
        signal: controller.signal,
        onProgress: (fraction) => {
          seen.push(fraction);
          if (fraction >= 0.25) controller.abort();
        },
      });
    expect(run).toThrow(Cancelled);
    expect(seen).toEqual([0, 0.125, 0.25]);
  });

  it.each([
    ['independent errors', 0],
    ['errors that reach to the next cell', 8],
  ])(
    'find a single cell behind a single pass as often as the normal distribution says: %s',
    (_, shortRangeM) => {
      // P lies 0.1 m below the pass S, between walls; from S water falls off steeply.
      const depthM = 0.1;
      const shortM = 0.07;
      const rows = ['#######', '#PSabc.', '#######'];
      const height: Record<string, number> = {
        '#': 60,
        P: 20,
        S: 20 + depthM,
        a: 17,
        b: 14,
        c: 11,
        '.': 8,
      };
      const elevation = groundOf(
        14,
        6,
        2,
        (x, y) => height[rows[2 - Math.floor(y / 2)][Math.floor(x / 2)]],
      );
      const study = prepareCertainty({
        elevation,
        plan: planOf([]),
        rainMm: 30,
        errors: { ...noError, shortM, shortRangeM },
        seed: 11,
      });
      expect(study.spots.length).toBe(1);
      const surfaces = 4000;
      const tallies = certainty(study, { from: 0, to: surfaces });
      const [spot] = summarise(study, tallies).low_spots;
      // There when at least half as deep: S - P = depth + N(0, 2 s2 (1 - rho)) >= depth / 2.
      const spread = shortM * Math.sqrt(2 * (1 - correlation(shortRangeM, 2, 0)));
      const p = normalBelow(depthM / 2 / spread);
      expect(p).toBeLessThan(0.9);
      expect(Math.abs(spot.probability - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / surfaces));
    },
  );

  it('are settled once fifty more hardly change a probability', () => {
    const sure = certainty(prepareCertainty(lotWithDents(noError)), { from: 0, to: 51 });
    expect(isSettled(sure)).toBe(true);
    const none = { ...sure, spotIsThere: sure.spotIsThere.slice() };
    // One low spot missing on every other of the last fifty.
    for (let row = 1; row < 51; row += 2) none.spotIsThere[row * sure.of.spots] = 0;
    expect(isSettled(none)).toBe(false);
    expect(isSettled(certainty(prepareCertainty(lotWithDents(noError)), { from: 0, to: 50 }))).toBe(
      false,
    );
  });
});

describe('rounds', () => {
  const sure = prepareCertainty(lotWithDents(noError));
  const runs: [number, number][] = [];
  const run = (from: number, to: number): Promise<Tallies> => {
    runs.push([from, to]);
    return Promise.resolve(certainty(sure, { from, to }));
  };

  it('end after a hundred when nothing changes any more', async () => {
    const seen: number[] = [];
    const tallies = await untilSettled(run, {
      onTallies: ({ indices }) => {
        seen.push(indices.length);
      },
    });
    expect(tallies.indices.length).toBe(100);
    expect(seen).toEqual([50, 100]);
    expect(runs).toEqual([
      [0, 25],
      [25, 50],
      [50, 75],
      [75, 100],
    ]);
  });

  it('run just as many as asked for', async () => {
    for (const surfaces of [1, 30, 60]) {
      expect((await untilSettled(run, { surfaces })).indices.length).toBe(surfaces);
    }
  });

  it('go on to four hundred when nothing settles, and stop when cancelled', async () => {
    const one = certainty(sure, { from: 0, to: 1 });
    const unsure = (from: number, to: number): Promise<Tallies> => {
      const indices = Int32Array.from({ length: to - from }, (_, i) => from + i);
      const made = emptyTallies(one.of, indices);
      // The more surfaces, the likelier: never the same share as before.
      made.spotIsThere.fill(from % 100 >= 50 ? 1 : 0);
      return Promise.resolve(made);
    };
    expect((await untilSettled(unsure)).indices.length).toBe(400);
    const controller = new AbortController();
    const cancelled = untilSettled(unsure, {
      signal: controller.signal,
      onTallies: () => {
        controller.abort();
      },
    });
    await expect(cancelled).rejects.toThrow(Cancelled);
  });
});

describe('words for a probability', () => {
  it.each([
    [1, 'very likely', 'very likely (over 99 %)'],
    [0.9, 'very likely', 'very likely (90 %)'],
    [0.74, 'likely', 'likely (74 %)'],
    [0.5, 'as likely as not', 'as likely as not (50 %)'],
    [0.2, 'unlikely', 'unlikely (20 %)'],
    [0.1, 'very unlikely', 'very unlikely (10 %)'],
    [0, 'very unlikely', 'very unlikely (under 1 %)'],
  ])('%f is %s', (probability, words, withNumber) => {
    expect(likelihood(probability)).toBe(words);
    expect(likelihoodWords(probability)).toBe(withNumber);
  });
});

/** Standard normal distribution function, Abramowitz and Stegun 26.2.17 (from memory), for x of at least 0. */
function normalBelow(x: number): number {
  const t = 1 / (1 + 0.2316419 * x);
  return (
    1 -
    (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) *
      t *
      (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  );
}

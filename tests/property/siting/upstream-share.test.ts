import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  contributingShare,
  targetWithPonds,
} from '../../../lib/drainage/terrain/contributing-share';
import { makeRouting, type Routing } from '../../../lib/drainage/terrain/routing';
import { shareSweep } from '../../../lib/drainage/terrain/share-sweep';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { UpstreamShare } from '../../../lib/siting/water/upstream-share';

const width = 17;
const height = 13;

/** Rough ground with flats and pits: whole numbers of a few sizes on a slope. */
const heights = fc.array(fc.integer({ min: 0, max: 4 }), {
  minLength: width * height,
  maxLength: width * height,
});
const cell = fc.integer({ min: 0, max: width * height - 1 });
const group = fc.uniqueArray(cell, { minLength: 1, maxLength: 12 });

function routingOf(rough: readonly number[], slope: number, holes: readonly number[]): Routing {
  const z = Float32Array.from(rough, (h, i) => 2 + h * 0.2 + slope * Math.floor(i / width));
  for (const hole of holes) z[hole] = Number.NaN;
  return makeRouting(buildTerrain(z, width, height, {}));
}

/** Shares of a target as it is, and with some cells where water ends. */
function swept(routing: Routing, target: readonly number[], ends: readonly number[] = []) {
  const size = width * height;
  const mask = (cells: readonly number[]): Uint8Array => {
    const marked = new Uint8Array(size);
    for (const each of cells) marked[each] = 1;
    return marked;
  };
  const share = new Float64Array(size);
  const { count } = routing.ponds;
  const passes = new Float64Array(count + 1).fill(1);
  const otherwise = new Float64Array(count + 1);
  shareSweep(routing, mask(target), { passes, otherwise }, share, mask(ends));
  return share;
}

describe('UpstreamShare', () => {
  it('finds the shares that the sweep over all ground finds', () => {
    fc.assert(
      fc.property(
        heights,
        fc.constantFrom(0, 0.05, 0.4),
        fc.uniqueArray(cell, { maxLength: 8 }),
        fc.array(group, { minLength: 1, maxLength: 3 }),
        (rough, slope, holes, groups) => {
          const routing = routingOf(rough, slope, holes);
          const upstream = new UpstreamShare(routing);
          // One after the other: nothing of the last target is left.
          for (const target of groups) {
            const on = target.filter((each) => !holes.includes(each));
            if (on.length === 0) continue;
            const mask = targetWithPonds(routing, Int32Array.from(on));
            upstream.of([...mask.keys()].filter((i) => mask[i] === 1));
            const whole = contributingShare(routing, Int32Array.from(on)).share;
            for (let i = 0; i < whole.length; i++) {
              expect(upstream.share[i], `cell ${i}`).toBeCloseTo(whole[i], 5);
            }
          }
        },
      ),
      { seed: 41, numRuns: 150 },
    );
  });

  it('ends water in the cells that it is told to, and splits the whole without loss', () => {
    fc.assert(
      fc.property(heights, group, group, (rough, one, two) => {
        const other = two.filter((each) => !one.includes(each));
        if (other.length === 0) return;
        const routing = routingOf(rough, 0.05, []);
        const upstream = new UpstreamShare(routing);
        upstream.of(one, [other]);
        const first = Float32Array.from(upstream.share);
        upstream.of(other, [one]);
        const second = Float32Array.from(upstream.share);
        const both = swept(routing, [...one, ...other]);
        const closed = swept(routing, one, other);
        for (let i = 0; i < both.length; i++) {
          expect(first[i] + second[i]).toBeCloseTo(both[i], 5);
          expect(first[i]).toBeCloseTo(closed[i], 5);
        }
      }),
      { seed: 42, numRuns: 150 },
    );
  });
});

import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../lib/frame/frame';
import { areaM2, centroid } from '../../../lib/frame/shapes';
import { basinOutline, rimAt, type OutlineForm } from '../../../lib/siting/sizing/basin-outline';
import { inForm } from '../../../src/app/map/hands/basin-reshape';
import { box } from '../ground/plane-lot';

const frame = makeFrame(localFrame([-81, 42.28]));
const forms: readonly OutlineForm[] = ['round', 'oval', 'kidney', 'teardrop'];
const onGlobe = (ring: readonly XY[]): LngLat[] =>
  [...ring, ring[0]].map((place) => frame.toLngLat(place));

function reshaped(rings: readonly (readonly XY[])[], form: OutlineForm): XY[] {
  const { coordinates } = inForm(rings.map(onGlobe), form);
  return coordinates[0].slice(0, -1).map(([lng, lat]) => frame.toLocal([lng, lat]));
}

/** How far a ring reaches along a direction and across it. */
function reach(ring: readonly XY[], turnRad: number): [along: number, across: number] {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  const spread = (values: number[]): number => Math.max(...values) - Math.min(...values);
  return [spread(ring.map(([x, y]) => x * c + y * s)), spread(ring.map(([x, y]) => y * c - x * s))];
}

/** A rectangle of 9 by 3 m about (20, 10), turned. */
function rectangle(turnRad: number): XY[] {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  return box(-4.5, -1.5, 4.5, 1.5).map(([x, y]) => [20 + x * c - y * s, 10 + x * s + y * c]);
}

describe('a basin made one of the usual forms', () => {
  it('keeps its area, its centre and its main direction', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...forms),
        fc.double({ min: 0, max: Math.PI, noNaN: true }),
        (form, turnRad) => {
          const before = rectangle(turnRad);
          const after = reshaped([before], form);
          expect(areaM2([after])).toBeCloseTo(27, 2);
          const [x, y] = centroid([after]);
          expect(Math.hypot(x - 20, y - 10)).toBeLessThan(0.06);
          const [along, across] = reach(after, turnRad);
          if (form === 'round') expect(along).toBeCloseTo(across, 1);
          else expect(along).toBeGreaterThan(1.5 * across);
        },
      ),
      { seed: 3, numRuns: 40 },
    );
  });

  it('does not mind which way round the outline was drawn', () => {
    const [along, across] = reach(reshaped([rectangle(0.4).reverse()], 'oval'), 0.4);
    expect(along).toBeGreaterThan(1.5 * across);
  });

  it('gives a square a form that is clearly longer than wide', () => {
    const square: XY[] = box(0, 0, 4, 4);
    const [along, across] = reach(reshaped([square], 'oval'), 0);
    expect(along / across).toBeCloseTo(1.3, 1);
  });

  it('takes the place of what a hole leaves', () => {
    const hole: XY[] = box(19, 9.5, 21, 10.5);
    expect(areaM2([reshaped([rectangle(0), hole], 'oval')])).toBeCloseTo(25, 2);
  });

  it('leaves a teardrop’s narrow end and a kidney’s hollow on their side', () => {
    for (const form of ['teardrop', 'kidney'] as const) {
      for (const turnRad of [0.3, 0.3 + Math.PI]) {
        const before = rimAt(basinOutline(form, 2, turnRad), [20, 10], 30);
        const after = reshaped([before], form);
        const apart = after.map(([x, y]) =>
          Math.min(...before.map(([px, py]) => Math.hypot(px - x, py - y))),
        );
        // The other way round, tips and hollow would lie a metre and more away.
        expect(Math.max(...apart)).toBeLessThan(0.7);
      }
    }
  });
});

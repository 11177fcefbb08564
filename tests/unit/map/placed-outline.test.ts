import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../lib/frame/frame';
import { areaM2, centroid } from '../../../lib/frame/shapes';
import { ringFault } from '../../../lib/plan/ring-fault';
import type { OutlineForm } from '../../../lib/siting/sizing/basin-outline';
import {
  bearingOf,
  outlineAreaM2,
  outlineOfKey,
  outlinePolygon,
  stretchedTo,
  usualOutline,
  withBearing,
  withSize,
} from '../../../src/app/map/hands/placed-outline';
import { type PlacedOutline } from '../../../src/app/state/session/tool';

const frame = makeFrame(localFrame([-81, 42.28]));
const at = (x: number, y: number): LngLat => frame.toLngLat([x, y]);
const forms: readonly OutlineForm[] = ['round', 'oval', 'kidney', 'teardrop'];

/** An outline's corners in local metres, not closed. */
function corners(outline: PlacedOutline): XY[] {
  const polygon = outlinePolygon(outline);
  if (polygon === null) throw new Error('the outline lies nowhere');
  return polygon.coordinates[0].slice(0, -1).map(([lng, lat]) => frame.toLocal([lng, lat]));
}

function sized(form: OutlineForm, lengthM: number, widthM: number): PlacedOutline {
  const outline = withSize(
    { ...usualOutline(form, null), centre: at(3, 4) },
    lengthM,
    widthM,
    'metric',
  );
  if (typeof outline === 'string') throw new Error(outline);
  return outline;
}

describe('an outline that is placed', () => {
  it('lies nowhere at first', () => {
    expect(outlinePolygon(usualOutline('oval', null))).toBeNull();
  });

  it('is as long from tip to tip, as wide across its middle and as large as it says, about its centre', () => {
    const turns = fc.record({
      form: fc.constantFrom(...forms),
      widthM: fc.double({ min: 1, max: 15, noNaN: true }),
      aspect: fc.double({ min: 1, max: 5, noNaN: true }),
      turnRad: fc.double({ min: -4, max: 4, noNaN: true }),
    });
    fc.assert(
      fc.property(turns, ({ form, widthM, aspect, turnRad }) => {
        const outline = { ...sized(form, widthM * aspect, widthM), turnRad };
        const ring = corners(outline);
        expect(areaM2([ring]) / outlineAreaM2(outline)).toBeCloseTo(1, 3);
        const [x, y] = centroid([ring]);
        expect(Math.hypot(x - 3, y - 4)).toBeLessThan(0.02 * outline.lengthM);
        const along = ring.map(([px, py]) => px * Math.cos(turnRad) + py * Math.sin(turnRad));
        const longM = Math.max(...along) - Math.min(...along);
        expect(longM / outline.lengthM).toBeGreaterThan(0.99);
        expect(longM / outline.lengthM).toBeLessThan(1.01);
        expect(ringFault([[...ring, ring[0]].map(([px, py]) => at(px, py))])).toBeUndefined();
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it('has its tip where the pointer is, and keeps its proportions', () => {
    for (const form of forms) {
      const before = sized(form, 6, form === 'round' ? 6 : 3);
      const outline = stretchedTo(before, at(3 + 6, 4 + 8));
      expect(outline.turnRad).toBeCloseTo(Math.atan2(8, 6), 4);
      expect(outline.lengthM / outline.widthM).toBeCloseTo(before.lengthM / before.widthM, 2);
      const tip = Math.max(...corners(outline).map(([x, y]) => (x - 3) * 0.6 + (y - 4) * 0.8));
      expect(tip).toBeGreaterThan(9.9);
      expect(tip).toBeLessThan(10.1);
    }
  });

  it('stays as it is while the pointer is on its centre', () => {
    const before = sized('oval', 6, 3);
    expect(stretchedTo(before, at(3, 4.01))).toBe(before);
  });

  it('is turned towards a teardrop’s narrow end', () => {
    const ring = corners({ ...sized('teardrop', 8, 4), turnRad: Math.PI / 2 });
    const widthAt = (y: number): number => {
      const near = ring.filter(([, py]) => Math.abs(py - y) < 0.8).map(([x]) => x);
      return Math.max(...near) - Math.min(...near);
    };
    expect(widthAt(4 + 3)).toBeLessThan(0.7 * widthAt(4 - 2));
  });

  it('is moved, turned and sized by keys, and left alone by others', () => {
    const outline = sized('kidney', 6, 3);
    const moved = outlineOfKey(outline, 'ArrowUp', true);
    expect(frame.toLocal(moved?.centre ?? [0, 0])[1]).toBeCloseTo(5, 3);
    const turned = outlineOfKey(outline, 'r', false);
    expect(bearingOf(turned ?? outline) - bearingOf(outline)).toBe(5);
    expect(outlineOfKey(turned ?? outline, 'R', true)?.turnRad).toBeCloseTo(outline.turnRad, 9);
    const larger = outlineOfKey(outline, '+', true);
    expect(larger?.lengthM).toBeCloseTo(6.3, 6);
    expect(larger?.widthM).toBeCloseTo(3.15, 6);
    expect(outlineOfKey(outline, 'a', false)).toBeNull();
    expect(outlineOfKey({ ...outline, centre: null }, 'ArrowUp', false)).toBeNull();
  });

  it('refuses with a sentence sizes that no garden has', () => {
    const outline = sized('oval', 6, 3);
    expect(withSize(outline, 0.2, 0.1, 'metric')).toMatch(/from 50 cm to 100.00 m/);
    expect(withSize(outline, 0.2, 0.1, 'us')).toMatch(/from 19.5 in to 328 ft/);
    expect(withSize(outline, 2, 3, 'metric')).toMatch(/no larger/);
    expect(withSize(outline, 70, 3, 'metric')).toMatch(/at most 6 times/);
    expect(withSize(sized('round', 6, 6), 8, 1, 'metric')).toMatchObject({ lengthM: 8, widthM: 8 });
  });

  it('keeps size, place and direction when another form is chosen', () => {
    const before = { ...sized('oval', 9, 4), turnRad: 1 };
    const after = usualOutline('teardrop', before);
    expect(outlineAreaM2(after) / outlineAreaM2(before)).toBeCloseTo(1, 2);
    expect(after).toMatchObject({ turnRad: 1, centre: before.centre });
  });

  it('points where a bearing says', () => {
    expect(bearingOf(withBearing(usualOutline('oval', null), 30))).toBe(30);
    expect(bearingOf(withBearing(usualOutline('oval', null), 350))).toBe(350);
    expect(bearingOf({ ...usualOutline('oval', null), turnRad: 0 })).toBe(90);
  });
});

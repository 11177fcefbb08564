import { readFileSync } from 'node:fs';
import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame } from '../../../lib/frame/frame';
import { areaM2, distanceM } from '../../../lib/frame/shapes';
import { applyChange } from '../../../lib/plan/change';
import { toLocal } from '../../../lib/plan/local-plan';
import { ownLot } from '../../../lib/plan/own-lot';
import { readPlan } from '../../../lib/plan/read-plan';

function twoLots() {
  const url = new URL('../../../fixtures/plans/two-lots.plan.geojson', import.meta.url);
  return readPlan(readFileSync(url, 'utf8'), 'two-lots').plan;
}

describe('toLocal', () => {
  const frame = makeFrame(localFrame([-70.4, 39.77]));

  it('groups features by kind, in metres, rings without their repeated corner', () => {
    const local = toLocal(twoLots(), frame);
    expect(local.of.lot.map(({ id }) => id)).toEqual(['lot', 'lot-east']);
    expect(local.of.tree).toEqual([]);
    const [lot] = local.of.lot;
    expect(lot.shape.rings[0]).toHaveLength(4);
    const [[lng0, lat0], [lng1, lat1]] = lot.feature.geometry.coordinates[0];
    const side = Geodesic.WGS84.Inverse(lat0, lng0, lat1, lng1).s12 ?? NaN;
    expect(distanceM(lot.shape.rings[0][0], lot.shape.rings[0][1])).toBeCloseTo(side, 4);
    expect(areaM2(lot.shape.rings)).toBeCloseTo(34.27 * 33.31, -1);
    expect(local.byId.get('lot')).toBe(lot);
  });

  it('has the outlet of a downspout and the overflow of a basin in metres', () => {
    const local = toLocal(twoLots(), frame);
    const [spout] = local.of.downspout;
    expect(spout.outlet).not.toEqual(spout.shape.at);
    expect(spout.outlet).toEqual(frame.toLocal([-70.39976, 39.77008]));
    expect(local.of.basin[0].overflow).toEqual(frame.toLocal([-70.39966, 39.77004]));
  });

  it('is computed once for a plan and frame, and anew for another', () => {
    const plan = twoLots();
    const local = toLocal(plan, frame);
    expect(toLocal(plan, makeFrame({ ...frame.spec }))).toBe(local);
    expect(toLocal(plan, makeFrame(localFrame([-70.41, 39.77])))).not.toBe(local);
    const { plan: after } = applyChange(plan, { label: 'x', deletes: ['basin'] });
    expect(toLocal(after, frame).of.basin).toEqual([]);
  });

  it('keeps what a change left alone, and places it anew in another frame', () => {
    const plan = twoLots();
    const local = toLocal(plan, frame);
    const { plan: after } = applyChange(plan, { label: 'x', deletes: ['basin'] });
    expect(toLocal(after, frame).of.lot[0]).toBe(local.of.lot[0]);
    const other = makeFrame(localFrame([-70.41, 39.77]));
    const [x] = toLocal(after, other).of.lot[0].shape.rings[0][0];
    expect(x).toBeGreaterThan(local.of.lot[0].shape.rings[0][0][0] + 800);
  });
});

describe('ownLot', () => {
  it('is the one marked own, and refuses none and many', () => {
    const plan = twoLots();
    expect(ownLot(plan, 'a').id).toBe('lot');
    const none = applyChange(plan, { label: 'x', deletes: ['lot'] }).plan;
    expect(() => ownLot(none, 'a')).toThrow(/a: no lot is marked as your own; draw/);
    const second = { ...ownLot(plan, 'a'), id: 'second' };
    const many = applyChange(plan, { label: 'x', puts: [second] }).plan;
    expect(() => ownLot(many, 'a')).toThrow(/2 lots are marked as your own \(lot, second\)/);
  });
});

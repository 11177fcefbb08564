import { describe, expect, it } from 'vitest';
import { contains } from '../../../lib/frame/shapes';
import { readPlan } from '../../../lib/plan/read-plan';
import { toLocal } from '../../../lib/plan/local-plan';
import { writePlan } from '../../../lib/plan/write-plan';
import { applyChange } from '../../../lib/plan/change';
import { eventOf, Trials } from '../../../lib/remedies/trials';
import { hollowsAtWalls } from '../../../lib/remedies/hollows';
import { gardensOnTheWay } from '../../../lib/remedies/parts/place-garden';
import { pipesFromSpout } from '../../../lib/remedies/parts/lead-off';
import { wallsAbove } from '../../../lib/remedies/parts/turn-aside';
import type { Part } from '../../../lib/remedies/part';
import { RemedySite } from '../../../lib/remedies/site';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import { box, frame, pointOf, polygonOf } from '../ground/plane-lot';
import { surveyOf, wetHeight, wetLot } from './wet-lot';

const features = [
  ...wetLot,
  polygonOf('roof', box(20, 11, 27, 21), { kind: 'roof' }),
  pointOf('spout', [20, 16], { kind: 'downspout', roof: 'roof' }),
];
const garden = polygonOf('garden', box(30, 22, 34, 26), { kind: 'basin', ponding_depth_m: 0.15 });

/** The site on a ground, and trials on it. */
function siteOn(height: (x: number, y: number) => number, drawn = features) {
  const { elevation, shape, plan } = surveyOf(drawn, height);
  const trials = new Trials(elevation.grid, plan);
  const main = eventOf(plan.plan.lotfall);
  const on = trials.shape(plan);
  const { storm } = trials.settle(on, main);
  const site = new RemedySite({
    elevation: elevation.grid,
    plan,
    shape,
    hollows: hollowsAtWalls(on.shape.ground.grid, plan, storm.depthM, trials.near),
    ruleSet: ruleSetOf(plan.plan.lotfall),
    today: '2026-12-01',
  });
  return { site, trials, main };
}
/** Even, and falling faster beyond the house, so that a pipe comes out. */
const even = siteOn(wetHeight);
const steep = siteOn((x, y) => wetHeight(x, y) - 0.08 * Math.max(0, x - 27));

/** The plan with a part taken in, written and read again. */
function taken({ plan }: RemedySite, { puts, deletes }: Part) {
  const after = applyChange(plan.plan, { label: 'take', puts, deletes }).plan;
  return readPlan(writePlan(after), 'taken').plan;
}

describe('more that can be done', () => {
  it('is a low wall uphill, to be checked for its height', () => {
    const parts = wallsAbove(even.site, 0);
    expect(parts.length).toBeGreaterThan(0);
    for (const part of parts) {
      expect(taken(even.site, part).features.at(-1)?.properties.kind).toBe('wall');
      expect(
        part.rules.some(({ rule, result }) => rule === 'wall-height' && result === 'check'),
      ).toBe(true);
    }
  });

  it('is a pipe that takes a downspout’s water to an end that falls all the way', () => {
    const { site, trials, main } = steep;
    const [spout] = site.plan.of.downspout;
    const parts = pipesFromSpout(site, 0, spout);
    expect(parts.length).toBeGreaterThan(0);
    for (const part of parts) {
      const after = toLocal(taken(site, part), frame);
      const [pipe] = after.of['drain-pipe'];
      expect(after.of.downspout[0].feature.properties.pipe).toBe(pipe.id);
      expect(pipe.feature.properties.slope).toBeGreaterThanOrEqual(0.01 - 1e-9);
      expect(part.trenchM3).toBeGreaterThan(0);
      const [{ ledger }] = trials.full(after, [main]).outcomes;
      expect(Math.abs(ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
    }
  });

  it.each([
    ['a rain garden where the water runs by', features, 'new-garden-1'],
    ['the one that is there, moved to it', [...features, garden], 'moved-garden'],
  ])('is %s, on the own lot', (_, drawn, key) => {
    const { site } = siteOn(wetHeight, drawn);
    const part = gardensOnTheWay(site, 0).find((each) => each.key === key)!;
    const after = toLocal(taken(site, part), frame);
    expect(after.of.basin).toHaveLength(1);
    const [lot] = site.plan.of.lot;
    for (const corner of after.of.basin[0].shape.rings[0]) {
      expect(contains(lot.shape.rings, corner)).toBe(true);
    }
  });
});

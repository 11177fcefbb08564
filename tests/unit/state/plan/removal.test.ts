import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyChange } from '../../../../lib/plan/change';
import { readPlan } from '../../../../lib/plan/read-plan';
import { featuresOf, type Plan } from '../../../../lib/plan/schema';
import { writePlan } from '../../../../lib/plan/write-plan';
import { removal } from '../../../../src/app/state/plan/removal';

const demo = readPlan(readFileSync('fixtures/demo/lot.plan.geojson', 'utf8'), 'demo').plan;

function less(plan: Plan, id: string): { plan: Plan; label: string; back: Plan } {
  const feature = plan.features.find((each) => each.id === id);
  if (feature === undefined) throw new Error(`The demo has no ${id}`);
  const change = removal(plan, feature);
  const { plan: left, inverse } = applyChange(plan, change);
  return { plan: left, label: change.label, back: applyChange(left, inverse).plan };
}

describe('taking a feature out', () => {
  it('leaves a plan that can be opened again, whatever it is, and can be taken back', () => {
    for (const { id } of demo.features) {
      const { plan, back } = less(demo, id);
      expect(readPlan(writePlan(plan), id).plan.features).toEqual(plan.features);
      expect(back).toEqual(demo);
    }
  });

  it('takes the downspouts of a roof with it, and says so', () => {
    const [downspout] = featuresOf(demo, 'downspout');
    const { roof } = downspout.properties;
    const own = featuresOf(demo, 'downspout').filter((each) => each.properties.roof === roof);
    const { plan, label } = less(demo, roof);
    expect(featuresOf(plan, 'downspout')).toHaveLength(
      featuresOf(demo, 'downspout').length - own.length,
    );
    expect(label).toBe(`delete roof and its ${own.length} downspouts`);
  });

  it('leaves what emptied into a drain pipe without one', () => {
    const [downspout] = featuresOf(demo, 'downspout');
    const piped: Plan = {
      ...demo,
      features: [
        ...demo.features.filter(({ id }) => id !== downspout.id),
        { ...downspout, properties: { ...downspout.properties, pipe: 'pipe-1' } },
        {
          type: 'Feature',
          id: 'pipe-1',
          geometry: {
            type: 'LineString',
            coordinates: [downspout.geometry.coordinates, downspout.geometry.coordinates],
          },
          properties: { kind: 'drain-pipe' },
        },
      ],
    };
    const { plan } = less(piped, 'pipe-1');
    const left = plan.features.find(({ id }) => id === downspout.id);
    expect(left?.properties).toEqual({ ...downspout.properties });
  });
});

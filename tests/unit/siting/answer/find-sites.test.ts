import { describe, expect, it } from 'vitest';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import type { Settings } from '../../../../lib/plan/schema';
import { allServices } from '../../../../lib/setback/locate/locates';
import type { CandidateSite } from '../../../../lib/siting/sizing/siting-result';
import type { SetbackResult } from '../../../../lib/setback/judge/setback-result';
import { askLot } from '../../../../lib/siting/answer/find-sites';
import { box, elevationOf, groundOf, planOf, polygonOf } from '../../ground/plane-lot';

const grid = groundOf(60, 60, 0.5, (_, y) => 10 + 0.03 * y);
const elevation = elevationOf(grid);

/** The best basin in the middle of a bare lot with these settings. */
function hereWith(settings: Partial<Settings>): CandidateSite | null {
  const plan = planOf([polygonOf('lot', box(2, 2, 28, 28), { kind: 'lot', own: true })], settings);
  const shape = shapeGround(grid, plan);
  const storm = stormOnGround(shape, plan, 25);
  return askLot({ elevation, plan, shape, storm, today: '2026-05-10' }, [15, 15]).here;
}

/** What a rule says to it. */
function rowAt(settings: Partial<Settings>, rule: string): SetbackResult | undefined {
  return hereWith(settings)?.setbacks.results.find((row) => row.rule === rule);
}

describe('a question about a plan', () => {
  it('takes its answers of locators who found nothing', () => {
    const answer = {
      found: 'no-lines',
      services: [...allServices],
      on: '2026-05-01',
      until: '2026-05-20',
      area: 'lot',
    } as const;
    const both = (until: string) => ({
      locates: (['public', 'private'] as const).map((by) => ({
        ...answer,
        services: [...allServices],
        by,
        until,
      })),
    });
    expect(rowAt({}, 'utility')?.result).toBe('check');
    expect(rowAt(both('2026-05-20'), 'utility')?.result).toBe('pass');
    expect(rowAt(both('2026-05-09'), 'utility')?.result).toBe('check');
  });

  it('takes its limit on standing water and the rate of its soil', () => {
    const soil = { rate_mm_per_h: 10, drain_limit_h: 5 };
    expect(rowAt({ soil }, 'drain-down')).toMatchObject({ required_h: 5 });
    expect(rowAt({}, 'drain-down')).toMatchObject({ required_h: 48 });
  });

  it('sizes on soil that nobody knows as on that for which the factors ask for most', () => {
    const wanted = (soil?: Settings['soil']): number =>
      hereWith(soil === undefined ? {} : { soil })?.wanted_m2 ?? NaN;
    expect(wanted()).toBe(wanted({ texture: 'clayey' }));
    expect(wanted()).toBeGreaterThan(wanted({ texture: 'silty' }));
  });
});

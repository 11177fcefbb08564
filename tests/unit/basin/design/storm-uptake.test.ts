import { describe, expect, it } from 'vitest';
import { designBasins } from '../../../../lib/basin/design/design-basins';
import { uptakeOf } from '../../../../lib/basin/design/for-drainage';
import { stormUptake } from '../../../../lib/basin/design/storm-uptake';
import { basinAsBuilt } from '../../../../lib/basin/form/as-built';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import { box, groundOf, planOf, polygonOf } from '../../ground/plane-lot';

describe('what basins take in while it rains', () => {
  it.each([8, 25, 60, 150])('is what their design says, to the bit, in %d mm', (rainMm) => {
    const elevation = groundOf(40, 30, 0.5, (x) => 8 - 0.03 * x);
    const basin = (id: string, west: number) =>
      polygonOf(id, box(west, 10, west + 5, 18), { kind: 'basin', dig_depth_m: 0.4 });
    const lot = polygonOf('lot', box(4, 4, 38, 26), { kind: 'lot', own: true });
    // Two basins, of which the upper overflows into the lower.
    const plan = planOf([lot, basin('upper', 14), basin('lower', 26)], {
      storm: { rain_mm: rainMm },
      soil: { group: 'B' },
    });
    const shape = shapeGround(elevation, plan);
    const storm = stormOnGround(shape, plan, rainMm);
    const question = { elevation, plan, shape, storm };
    const built = ['upper', 'lower'].flatMap((id) => {
      const made = basinAsBuilt(elevation, plan, id);
      return 'notDug' in made ? [] : [made];
    });
    expect(built).toHaveLength(2);
    const found = stormUptake(question, built);
    expect([...found].sort()).toEqual([...uptakeOf(designBasins(question))].sort());
    expect(found.get('upper')).toBeGreaterThan(0);
  });
});

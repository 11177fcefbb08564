import { bench, describe } from 'vitest';
import { forbiddenGround } from '../../lib/siting/forbidden-ground';
import { searchSites } from '../../lib/siting/search';
import type { RoofOutlet, SitingInput } from '../../lib/siting/siting-input';
import { box, fallingSouth, inputOf, lotWithHouse } from '../unit/siting/sloping-lot';

/** A lot of 2000 m2 with a house, two downspouts and twenty small trees, at 0.5 m. */
function busyLot(): SitingInput {
  const trees = Array.from({ length: 20 }, (_, i) => ({
    id: `tree-${i}`,
    properties: { kind: 'tree' as const, trunk_diameter_m: 0.2, canopy_radius_m: 2 },
    point: [((i * 7.3) % 38) + 1, ((i * 11.7) % 48) + 1] as const,
  }));
  const roofs: RoofOutlet[] = [
    { id: 'east', at: [26.3, 31.8], areaM2: 84 },
    { id: 'west', at: [11.7, 31.8], areaM2: 84 },
  ];
  const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 32, 26, 44), ...trees);
  return inputOf(plan, fallingSouth(-10, 60, 60, 70, 0.5, 0.03), roofs);
}

describe('a lot of 2000 m2 at 0.5 m', () => {
  const input = busyLot();
  bench('forbiddenGround', () => {
    forbiddenGround({ ...input, soil: undefined });
  });
  bench(
    'searchSites, the routing of water left out',
    async () => {
      await searchSites(input);
    },
    { iterations: 5, time: 0, warmupTime: 0, warmupIterations: 1 },
  );
});

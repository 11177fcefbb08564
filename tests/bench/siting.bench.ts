/**
 * The search for places on a lot of 2000 m2 in cells of half a metre, with its water routed and the storm sent through every
 * place. The baseline is laying the rules over the lot once.
 */
import { shapeGround } from '../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../lib/drainage/storm/storm-on-ground';
import type { XY } from '../../lib/frame/frame';
import { ruleSetById } from '../../lib/setback/sets/rule-sets';
import { findSites, type SitesQuestion } from '../../lib/siting/answer/find-sites';
import { forbiddenGround } from '../../lib/siting/refused/forbidden-ground';
import { rankSites } from '../../lib/siting/sizing/rank-sites';
import { defaultWeights } from '../../lib/siting/sizing/score';
import { box, elevationOf, groundOf, planOf, pointOf, polygonOf } from '../unit/ground/plane-lot';

const rainMm = 40;
const [west, south] = [20, 20];

function at(x: number, y: number): XY {
  return [west + x, south + y];
}

/** A lot with a house, two downspouts, a neighbour below and twenty small trees, on a slope with swells. */
function busyLot(): SitesQuestion {
  const grid = groundOf(
    80,
    90,
    0.5,
    (x, y) => 10 + 0.03 * y + 0.15 * Math.sin(x / 6) * Math.cos(y / 8),
  );
  const house = box(west + 12, south + 32, west + 26, south + 44);
  const trees = Array.from({ length: 20 }, (_, i) =>
    pointOf(`tree-${i}`, at(((i * 7.3) % 38) + 1, ((i * 11.7) % 48) + 1), {
      kind: 'tree',
      trunk_diameter_m: 0.2,
      canopy_radius_m: 2,
    }),
  );
  const plan = planOf(
    [
      polygonOf('lot', box(west, south, west + 40, south + 50), { kind: 'lot', own: true }),
      polygonOf('below', box(west, south - 18, west + 40, south), { kind: 'lot', own: false }),
      polygonOf('house', house, { kind: 'building', foundation: 'basement' }),
      polygonOf('roof', house, { kind: 'roof', building: 'house' }),
      pointOf('east', at(26.3, 31.8), { kind: 'downspout', roof: 'roof', share: 0.5 }),
      pointOf('west', at(11.7, 31.8), { kind: 'downspout', roof: 'roof', share: 0.5 }),
      ...trees,
    ],
    { storm: { rain_mm: rainMm }, soil: { group: 'B', texture: 'silty', rate_mm_per_h: 20 } },
  );
  const shape = shapeGround(grid, plan);
  const elevation = elevationOf(grid);
  return { elevation, plan, shape, storm: stormOnGround(shape, plan, rainMm), today: '2026-05-10' };
}

export async function benchSiting(): Promise<void> {
  console.log('\nSiting: a lot of 2000 m2 at 0.5 m');
  const question = busyLot();
  const started = performance.now();
  forbiddenGround({
    plan: question.plan,
    ruleSet: ruleSetById('default'),
    elevation: question.elevation.grid,
    soil: undefined,
  });
  const layingMs = performance.now() - started;
  console.log(`  laying the rules over it: ${layingMs.toFixed(0)} ms`);
  for (const basins of [1, 2]) {
    const start = performance.now();
    let firstMs = 0;
    let told = 0;
    const found = await findSites(
      { ...question, basins },
      {
        onSites: () => {
          if (told++ === 0) firstMs = performance.now() - start;
        },
      },
    );
    const wholeMs = performance.now() - start;
    console.log(
      `  ${basins === 1 ? 'one basin' : 'two that share the water'}: first place after ${firstMs.toFixed(0)} ms, ${found.sites.length} places of ${found.candidates.length} after ${wholeMs.toFixed(0)} ms, ${(wholeMs / layingMs).toFixed(0)} times laying the rules`,
    );
    if (basins > 1) continue;
    const ranking = performance.now();
    rankSites(found.candidates, { ...defaultWeights, caught: 1 });
    console.log(`  ranking by other weights: ${(performance.now() - ranking).toFixed(1)} ms`);
  }
}

import { describe, expect, it } from 'vitest';
import { figureKey, stateFigures } from '../../../lib/drainage/answer/two-states';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import { atOnce } from '../../../lib/drainage/steps';
import { elevationAt } from '../../../lib/elevation/grid';
import { levelsElevation } from '../../../lib/levels/levels-elevation';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import { TwoStates } from '../../../src/app/worker/two-states';
import { box, elevationOf, groundOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const lot = polygonOf('own', box(5, 5, 35, 35), { kind: 'lot', own: true });
const house = polygonOf('house', box(15, 12, 25, 18), { kind: 'building', name: 'House' });

/** A level at each of nine places, at a height of its own. */
function levels(state: 'gone' | 'proposed', height: (x: number, y: number) => number) {
  return [6, 20, 34].flatMap((x) =>
    [6, 20, 34].map((y) =>
      pointOf(`${state}-${x}-${y}`, [x, y], {
        kind: 'spot-height',
        elevation_m: height(x, y),
        state,
      }),
    ),
  );
}

function withLevels(features: readonly PlanFeature[], of_levels: boolean): Plan {
  const { plan } = planOf([...features]);
  return { ...plan, lotfall: { ...plan.lotfall, elevation: { of_levels, rmse_m: 0.01 } } };
}

describe('today beside what will be', () => {
  it('stands on today’s levels where the ground is made from levels that were read twice', () => {
    const plan = withLevels(
      [lot, house, ...levels('gone', () => 10), ...levels('proposed', () => 11)],
      true,
    );
    const { elevation } = levelsElevation(plan, 'proposed');
    const { grid } = atOnce(new TwoStates(elevation).existingSteps(plan));
    const middle = Math.floor(grid.height / 2) * grid.width + Math.floor(grid.width / 2);
    expect(elevationAt(grid, middle)).toBeCloseTo(10, 3);
    expect(elevationAt(elevation.grid, middle)).toBeCloseTo(11, 3);
  });

  it('stands on the ground that was read where nothing was levelled twice, without what is to come', () => {
    const fill = polygonOf('fill', box(10, 19, 30, 30), {
      kind: 'regrade',
      elevation_m: 105,
      state: 'proposed',
    });
    const plan = withLevels([lot, house, fill], false);
    const elevation = elevationOf(groundOf(40, 40, 0.5, (_, y) => 3 + 0.03 * y));
    const states = new TwoStates(elevation);
    const { grid, water } = atOnce(states.existingSteps(plan));
    expect(grid).toBe(elevation.grid);
    expect(water.result.edits.map(({ id }) => id)).not.toContain('fill');
    const doubts = atOnce(states.doubtSteps(plan, new Map(), errorsOf(0.5, { rmseM: 0.01 })));
    const [figure] = stateFigures(water.result, water.result);
    expect(doubts.has(figureKey(figure))).toBe(true);
  });
});

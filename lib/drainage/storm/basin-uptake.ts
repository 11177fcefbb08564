import type { BasinForm } from '../../ground/basin-form';
import type { Conduit } from '../../ground/conduits';
import type { ShapedGround } from './shaped-ground';
import type { Terrain } from '../terrain/terrain';
import { hourS } from '../../units/units';

/**
 * The same ground with basins that take water in while it rains: each gets a conduit from its floor into the soil, large
 * enough for what its filling over time says. So the static storm, its ledger and its overflow agree with that.
 *
 * @param uptakeM3 - by id of the basin, what layers and soil take in until the last water has come; one that is not named
 *   takes nothing.
 * @param durationH - how long the storm's conduits run, as `eventDuration` has it.
 * Cost: O(cells of the basins).
 */
export function withUptake(
  shape: ShapedGround,
  uptakeM3: ReadonlyMap<string, number>,
  durationH: number,
): ShapedGround {
  const { ground, terrain } = shape;
  if (!(durationH > 0)) return shape;
  const uptakes = ground.basins.flatMap((basin): Conduit[] => {
    const volumeM3 = uptakeM3.get(basin.id) ?? 0;
    const inlet = deepestPit(terrain, basin);
    if (!(volumeM3 > 0) || inlet === -1) return [];
    const capacityM3PerS = volumeM3 / (durationH * hourS);
    return [{ id: basin.id, inlet, outlet: 'soil', capacityM3PerS, blocked: false, pipe: null }];
  });
  if (uptakes.length === 0) return shape;
  return { ...shape, ground: { ...ground, conduits: [...ground.conduits, ...uptakes] } };
}

/** The same ground with basins that take nothing in: as their bowls alone hold water. */
export function withoutUptake(shape: ShapedGround): ShapedGround {
  const { ground } = shape;
  const conduits = ground.conduits.filter(({ outlet }) => outlet !== 'soil');
  return { ...shape, ground: { ...ground, conduits } };
}

/** The pit to which most of a basin's cells drain; -1 when it holds nothing. */
function deepestPit({ catchment, tree }: Terrain, { cells }: BasinForm): number {
  const inside = new Set(cells);
  const drained = new Map<number, number>();
  for (const cell of cells) {
    const at = catchment[cell];
    if (at > 0 && inside.has(tree.pitCells[at])) drained.set(at, (drained.get(at) ?? 0) + 1);
  }
  let best = -1;
  let most = 0;
  for (const [at, count] of drained) {
    if (count <= most) continue;
    most = count;
    best = tree.pitCells[at];
  }
  return best;
}

import type { Note } from '../../../../lib/elevation/note';
import { writeGeoTiff } from '../../../../lib/elevation/writing/write-geotiff';
import { levelsElevation } from '../../../../lib/levels/levels-elevation';
import type { Plan } from '../../../../lib/plan/schema';
import type { PageSource } from '../../worker/analysis-api';
import { levelGroundName } from './level-ground-name';

/** Ground made from a plan's levels, as a file of the page's own. */
export interface LevelGround {
  readonly source: PageSource;
  readonly rmseM: number;
  readonly notes: readonly Note[];
}

/**
 * Makes the ground of a plan's levels into a file, to be opened as any other.
 *
 * @throws {InputError} what `levelsElevation` throws.
 */
export async function makeLevelGround(plan: Plan): Promise<LevelGround> {
  const { elevation, rmseM } = levelsElevation(plan, 'levels');
  // As it stands, so that every browser writes the same bytes.
  const bytes = await writeGeoTiff(elevation.grid, { compress: 'none' });
  const name = levelGroundName(plan);
  return { source: { name, blob: new Blob([bytes]) }, rmseM, notes: elevation.notes };
}

import type {
  BasinCertainty,
  BuildingCertainty,
  CertaintyResult,
  LowSpotCertainty,
} from './certainty-result';
import type { DrainageResult } from '../answer/drainage-result';
import type { Sensitivity } from './sensitivity';

/** A drainage result in which low spots, basins and buildings say how sure they are. */
export interface CertainDrainage extends DrainageResult {
  readonly low_spots: readonly (DrainageResult['low_spots'][number] &
    Partial<Omit<LowSpotCertainty, 'id'>>)[];
  readonly basins: readonly (DrainageResult['basins'][number] &
    Partial<Omit<BasinCertainty, 'id'>>)[];
  readonly buildings: readonly (DrainageResult['buildings'][number] &
    Partial<Omit<BuildingCertainty, 'building' | 'name'>>)[];
  /** How the probabilities were found. */
  readonly certainty: Pick<CertaintyResult, 'surfaces' | 'seed' | 'settled' | 'errors'>;
  /** The same with other errors of the elevation, where several were asked for. */
  readonly sensitivity?: Sensitivity;
}

/** Puts the probabilities and ranges of a study to the rows of a drainage result of the same ground and storm. */
export function withCertainty(result: DrainageResult, found: CertaintyResult): CertainDrainage {
  const { surfaces, seed, settled, errors } = found;
  const spots = new Map(found.low_spots.map((row) => [row.id, row]));
  const basins = new Map(found.basins.map((row) => [row.id, row]));
  const buildings = new Map(found.buildings.map((row) => [row.building, row]));
  return {
    ...result,
    low_spots: result.low_spots.map((row) => ({ ...row, ...spots.get(row.id) })),
    basins: result.basins.map((row) => ({ ...row, ...basins.get(row.id) })),
    buildings: result.buildings.map((row) => ({ ...row, ...buildings.get(row.building) })),
    certainty: { surfaces, seed, settled, errors },
    notes: [...result.notes, ...found.notes],
  };
}

/** Whether a drainage result says how sure it is. */
export function isCertain(result: DrainageResult): result is CertainDrainage {
  return 'certainty' in result;
}

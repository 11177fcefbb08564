import type { CertaintyResult } from './certainty-result';

/** How one probability changes with the error that is tried. */
export interface SensitivityRow {
  readonly about: 'low-spot' | 'basin' | 'building';
  readonly id: string;
  /** In the order of the errors. */
  readonly probabilities: readonly number[];
}

/** The same question asked with several errors of the elevation. */
export interface Sensitivity {
  readonly errors: readonly (CertaintyResult['errors'] & { readonly surfaces: number })[];
  readonly rows: readonly SensitivityRow[];
}

/**
 * Puts results of one ground and storm side by side, one for each error tried: rows that hardly change need no better
 * elevation, and those that do need one.
 *
 * @param results - of the same low spots, basins and buildings; at least one.
 */
export function sensitivity(results: readonly CertaintyResult[]): Sensitivity {
  const [{ low_spots, basins, buildings }] = results;
  const row = (
    about: SensitivityRow['about'],
    id: string,
    probabilityIn: (result: CertaintyResult) => number,
  ): SensitivityRow => ({ about, id, probabilities: results.map(probabilityIn) });
  return {
    errors: results.map(({ errors, surfaces }) => ({ ...errors, surfaces })),
    rows: [
      ...buildings.map(({ building }, i) =>
        row('building', building, (result) => result.buildings[i].probability),
      ),
      ...basins.map(({ id }, i) => row('basin', id, (result) => result.basins[i].probability)),
      ...low_spots.map(({ id }, i) =>
        row('low-spot', id, (result) => result.low_spots[i].probability),
      ),
    ],
  };
}

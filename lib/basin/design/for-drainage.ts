import type { BuiltFigures } from '../../drainage/answer/drainage-result';
import { isDesigned, type DesignResult } from './design-result';

/** What each basin, by id, takes into layers, soil and underdrain until the last water has come, m3: see `withUptake`. */
export function uptakeOf({ basins }: Pick<DesignResult, 'basins'>): ReadonlyMap<string, number> {
  return new Map(
    basins.flatMap((basin) =>
      isDesigned(basin) ? [[basin.id, basin.storm.taken_in_m3] as const] : [],
    ),
  );
}

/** What each basin, by id, comes to as it is built: see `DrainAbout`. */
export function builtOf({
  basins,
}: Pick<DesignResult, 'basins'>): ReadonlyMap<string, BuiltFigures> {
  return new Map(
    basins.flatMap((basin) => {
      if (!isDesigned(basin)) return [];
      const { cut_m3: cutM3, fill_m3: fillM3 } = basin.balance;
      return [[basin.id, { holdsM3: basin.basin.storage_m3, cutM3, fillM3 }] as const];
    }),
  );
}

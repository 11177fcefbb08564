import { isDesigned, type DesignResult } from './design-result';

/** What each basin, by id, takes into layers, soil and underdrain until the last water has come, m3: see `withUptake`. */
export function uptakeOf({ basins }: DesignResult): ReadonlyMap<string, number> {
  return new Map(
    basins.flatMap((basin) =>
      isDesigned(basin) ? [[basin.id, basin.storm.taken_in_m3] as const] : [],
    ),
  );
}

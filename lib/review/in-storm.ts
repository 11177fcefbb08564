import { stormUptake } from '../basin/design/storm-uptake';
import { basinAsBuilt, type BasinAsBuilt } from '../basin/form/as-built';
import { withUptake } from '../drainage/storm/basin-uptake';
import type { ShapedGround } from '../drainage/storm/shaped-ground';
import { stormOnGround } from '../drainage/storm/storm-on-ground';
import type { LocalPlan } from '../plan/local-plan';
import { eventDuration } from '../storm/event-duration';
import { lotsInStorm, type LotsInStorm } from './lots-in-storm';
import type { LotWaterRow } from './review-result';

/** Basins as built, by id, so that trials of the same gardens do not work them out anew; they are taken not to lie on one another. */
export type BuiltBasins = Map<string, BasinAsBuilt | null>;

/**
 * The storm on a ground whose basins take in what their filling says.
 *
 * @param built - of earlier trials on the same elevation; what is missing is added.
 */
export function inStorm(
  shape: ShapedGround,
  plan: LocalPlan,
  rainMm: number,
  built: BuiltBasins = new Map(),
): LotsInStorm & { readonly notes: readonly string[] } {
  let storm = stormOnGround(shape, plan, rainMm);
  let on = shape;
  const basins = plan.of.basin.flatMap(({ id }) => {
    let found = built.get(id);
    if (found === undefined) {
      const made = basinAsBuilt(shape.elevation, plan, id);
      found = 'notDug' in made ? null : made;
      built.set(id, found);
    }
    return found === null ? [] : [found];
  });
  if (basins.length > 0) {
    const question = { elevation: shape.elevation, plan, shape, storm };
    const { hours } = eventDuration(plan.plan.lotfall);
    on = withUptake(shape, stormUptake(question, basins), hours);
    storm = stormOnGround(on, plan, rainMm);
  }
  return { ...lotsInStorm(on, storm, plan), notes: storm.notes };
}

/** What leaves lots for good, m3: over lines to other ground water may wind in and out, and the difference counts. */
export function leavesM3(rows: readonly LotWaterRow[]): number {
  return rows.reduce(
    (sum, row) =>
      sum + row.to_elsewhere_m3 - row.from_elsewhere_m3 + row.sewer_m3 + row.off_data_m3,
    0,
  );
}

import { shapeGround } from '../drainage/storm/shaped-ground';
import { partOf, type Steps } from '../drainage/steps';
import { areaM2 } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import { homeLot } from '../plan/home-lot';
import { toLocal, type LocalPlan } from '../plan/local-plan';
import { bestGardens, isBetter, type GardenWorth } from './best-gardens';
import { inStorm, leavesM3, type BuiltBasins } from './in-storm';
import type { LotsInStorm } from './lots-in-storm';
import type { ReviewQuestion } from './review-question';
import type { GardenAlone, GardenChoice } from './review-result';
import { worseOff } from './worse-off';

/**
 * Tries the plan's proposed gardens one by one and together. All else of the plan stands in every trial.
 *
 * Cost: a storm on newly shaped ground for each set, see {@link bestGardens}.
 */
export function* chooseGardens(
  { shape, plan, rainMm }: Pick<ReviewQuestion, 'shape' | 'plan' | 'rainMm'>,
  budgetM2: number,
): Steps<GardenChoice> {
  const proposed = plan.of.basin.filter(({ feature }) => feature.properties.state !== 'existing');
  const areas = proposed.map(({ shape: { rings } }) => areaM2(rings));
  const units = plan.plan.lotfall.units ?? 'metric';
  const built: BuiltBasins = new Map();
  const stormWith = (gardens: readonly number[]): LotsInStorm => {
    const left = new Set(proposed.filter((_, i) => !gardens.includes(i)).map(({ id }) => id));
    const some = without(plan, left);
    return inStorm(shapeGround(shape.elevation, some), some, rainMm, built);
  };
  yield { fraction: 0, stage: 'Trying the street without gardens' };
  const none = stormWith([]);
  const harmsOf = ({ rows }: LotsInStorm): string[] =>
    rows.flatMap((row, lot) =>
      worseOff(none.rows[lot], row, units).map(
        (words) => `${shape.ground.lots[lot].name}: ${words}`,
      ),
    );
  const worthOf = (storm: LotsInStorm): GardenWorth => ({
    harms: harmsOf(storm).length > 0,
    wallsM3: nearWallsM3(none) - nearWallsM3(storm),
    keptM3: leavesM3(none.rows) - leavesM3(storm.rows),
  });
  const alone: { readonly row: GardenAlone; readonly worth: GardenWorth }[] = [];
  const first = new Map<string, GardenWorth>();
  for (const [i, { id, feature, shape: outline }] of proposed.entries()) {
    yield { fraction: (0.2 * i) / proposed.length, stage: 'Trying each garden alone' };
    const storm = stormWith([i]);
    const worth = worthOf(storm);
    first.set(`${i}`, worth);
    const holdsM3 = heldM3(storm) - heldM3(none);
    const row = {
      garden: id,
      name: featureName(feature),
      area_m2: areas[i],
      walls_m3: worth.wallsM3,
      kept_m3: worth.keptM3,
      kept_m3_per_m2: worth.keptM3 / areas[i],
      lot: homeLot(plan, outline.rings[0])?.id ?? null,
      holds_m3: holdsM3,
      kept_m3_per_m3: holdsM3 > 0 ? worth.keptM3 / holdsM3 : null,
      harms: harmsOf(storm),
    };
    alone.push({ row, worth: { ...worth, keptM3: row.kept_m3_per_m2 } });
  }
  const search = bestGardens(
    areas,
    budgetM2,
    (gardens) => first.get(gardens.join()) ?? worthOf(stormWith(gardens)),
  );
  const best = yield* partOf(search, 0.2, 1);
  return {
    alone: alone
      .sort(
        (a, b) => a.row.harms.length - b.row.harms.length || (isBetter(a.worth, b.worth) ? -1 : 1),
      )
      .map(({ row }) => row),

    budget_m2: budgetM2,
    best:
      best === null
        ? null
        : {
            gardens: best.gardens.map((i) => proposed[i].id),
            area_m2: best.gardens.reduce((sum, i) => sum + areas[i], 0),
            walls_m3: best.worth.wallsM3,
            kept_m3: best.worth.keptM3,
            exhaustive: best.exhaustive,
            tried: best.tried,
          },
  };
}

function without(plan: LocalPlan, ids: ReadonlySet<string>): LocalPlan {
  const features = plan.plan.features.filter(({ id }) => !ids.has(id));
  return toLocal({ ...plan.plan, features }, plan.frame);
}

/** Held by basins. */
function heldM3({ rows }: LotsInStorm): number {
  return rows.reduce((sum, { basin_m3 }) => sum + basin_m3, 0);
}

function nearWallsM3({ rows }: LotsInStorm): number {
  return rows.reduce(
    (sum, { wet_buildings }) =>
      sum + wet_buildings.reduce((total, { volume_m3 }) => total + volume_m3, 0),
    0,
  );
}

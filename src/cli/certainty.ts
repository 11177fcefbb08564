import { certainty, prepareCertainty, type CertaintyInput } from '../../lib/drainage/certainty';
import { summarise, type CertaintyResult } from '../../lib/drainage/certainty-result';
import { untilSettled } from '../../lib/drainage/certainty-rounds';
import { errorsOf, usualRmseM } from '../../lib/drainage/error-defaults';
import type { CertainDrainage } from '../../lib/drainage/with-certainty';
import type { LocalPlan } from '../../lib/plan/local-plan';
import { formatArea, formatLength, formatVolume } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import type { Call } from './command';
import { table } from './table';
import { usage } from './usage';

/** More surfaces say nothing new: the standard error of a probability is then 0.008. */
const mostAskedFor = 4000;

export const certaintyOptions = {
  certainty: { type: 'boolean' },
  surfaces: { type: 'string' },
} as const;

export const certaintyHelp = `  --certainty                           how sure low spots, water at walls and basins are, given the error of the
                                        elevation: repeats the storm over equally likely surfaces
  --surfaces <n>                        with --certainty: just so many; else as many as it takes, 100 to 400`;

/** How many surfaces the call asks for: null for none, undefined for as many as it takes. */
export function surfacesOf(call: Call): number | undefined | null {
  const named = call.option('surfaces');
  if (named === undefined) return call.flag('certainty') ? undefined : null;
  if (!call.flag('certainty')) {
    throw usage('--surfaces is given without --certainty', 'add --certainty');
  }
  const surfaces = Number(named);
  if (Number.isInteger(surfaces) && surfaces >= 1 && surfaces <= mostAskedFor) return surfaces;
  throw usage(
    `--surfaces ${named} is no number of surfaces`,
    `give a whole number from 1 to ${mostAskedFor}`,
  );
}

/** Repeats the storm; the same call gives the same answer. */
export async function certaintyOf(
  call: Call,
  about: Pick<CertaintyInput, 'elevation' | 'plan' | 'rainMm'>,
  surfaces: number | undefined,
): Promise<CertaintyResult> {
  const rmseM = about.plan.plan.lotfall.elevation?.rmse_m ?? usualRmseM;
  const errors = errorsOf(about.elevation.cellM, { rmseM });
  const study = prepareCertainty({ ...about, errors, seed: 1 });
  const tallies = await untilSettled(
    (from, to) => Promise.resolve(certainty(study, { from, to })),
    {
      onProgress: call.onProgress,
      ...(surfaces === undefined ? {} : { surfaces }),
    },
  );
  return summarise(study, tallies);
}

/** How sure the answer is: buildings, basins and the largest low spots. */
export function certaintyTable(
  result: CertainDrainage,
  plan: LocalPlan,
  units: UnitSystem,
  mostSpots: number,
): string {
  const { surfaces, errors } = result.certainty;
  const between = (low = 0, high = 0, format: (value: number) => string): string =>
    format(low) === format(high) ? format(low) : `${format(low)} to ${format(high)}`;
  const area = (value: number): string => formatArea(value, units);
  const rows = [
    ...result.buildings.map((row) => [
      `water stands at the wall of ${row.name}`,
      row.words ?? '',
      between(row.wall_m_5, row.wall_m_95, (value) => formatLength(value, units)),
    ]),
    ...result.basins.map((row) => [
      `${plan.byId.get(row.id)?.feature.properties.name ?? row.id} fills to its overflow`,
      row.words ?? '',
      `${between(row.drains_m2_5, row.drains_m2_95, area)} drain to it`,
    ]),
    ...result.low_spots
      .slice(0, mostSpots)
      .map((row) => [
        `${row.id} is there`,
        row.words ?? '',
        typeof row.volume_m3_5 === 'number' && typeof row.volume_m3_95 === 'number'
          ? `${between(row.volume_m3_5, row.volume_m3_95, (value) => formatVolume(value, units))} on ${between(row.area_m2_5 ?? 0, row.area_m2_95 ?? 0, area)}`
          : '',
      ]),
  ];
  const error = formatLength(errors.rmse_m, units);
  return `How sure is that? ${surfaces} equally likely surfaces, given heights to within ${error} (RMSE)\n${table(
    [['', '', 'in nine of ten'], ...rows],
    'lll',
  )}`;
}

import {
  certainty,
  prepareCertainty,
  type CertaintyInput,
} from '../../../lib/drainage/certainty/certainty';
import { summarise, type CertaintyResult } from '../../../lib/drainage/certainty/certainty-result';
import { untilSettled } from '../../../lib/drainage/certainty/certainty-rounds';
import type { Tallies } from '../../../lib/drainage/certainty/certainty-tallies';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import type { LowSpotRow } from '../../../lib/drainage/answer/drainage-result';
import { lowSpotName } from '../../../lib/drainage/answer/listed-low-spots';
import { sensitivity, type Sensitivity } from '../../../lib/drainage/certainty/sensitivity';
import type { CertainDrainage } from '../../../lib/drainage/certainty/with-certainty';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { formatArea, formatLength, formatVolume } from '../../../lib/units/format';
import { parseLength } from '../../../lib/units/parse-length';
import type { UnitSystem } from '../../../lib/units/units';
import type { Call } from '../command';
import { table } from '../writing/table';
import { usage } from '../usage';
import { nameById } from '../../../lib/plan/feature-name';

/** More surfaces say nothing new: the standard error of a probability is then 0.008. */
const mostAskedFor = 4000;

export const certaintyOptions = {
  certainty: { type: 'boolean' },
  surfaces: { type: 'string' },
  error: { type: 'string' },
} as const;

export const certaintyHelp = `  --certainty                           how sure low spots, water at walls and basins are, given the error of the
                                        elevation: repeats the storm over equally likely surfaces
  --surfaces <n>                        with --certainty: just so many; else as many as it takes, 100 to 400
  --error <length,…>                    with --certainty: the vertical error (RMSE) to try instead of the plan's,
                                        '0.1 m'; of several, '0.05,0.10', the first counts and a table compares them`;

/** What the call asks for. */
export interface CertaintyAsked {
  /** As many as it takes where not given. */
  readonly surfaces?: number;
  /** Errors to try, metres; that of the plan or of the usual kind of data where none is named. */
  readonly rmsesM: readonly number[];
}

/** What the call asks for; null when it does not ask how sure the answer is. */
export function certaintyAsked(call: Call): CertaintyAsked | null {
  const named = call.option('surfaces');
  const errors = call.option('error');
  if (!call.flag('certainty')) {
    if (named !== undefined) {
      throw usage('--surfaces is given without --certainty', 'add --certainty');
    }
    if (errors !== undefined)
      throw usage('--error is given without --certainty', 'add --certainty');
    return null;
  }
  const rmsesM = errors === undefined ? [] : errors.split(',').map(errorOf);
  if (named === undefined) return { rmsesM };
  const surfaces = Number(named);
  if (Number.isInteger(surfaces) && surfaces >= 1 && surfaces <= mostAskedFor) {
    return { surfaces, rmsesM };
  }
  throw usage(
    `--surfaces ${named} is no number of surfaces`,
    `give a whole number from 1 to ${mostAskedFor}`,
  );
}

/** Errors beyond this are no elevation of a lot. */
const mostErrorM = 10;

/** One error; metres where no unit stands with it, whatever the plan's units. */
function errorOf(text: string): number {
  const rmseM = text.trim() === '' ? Number.NaN : parseLength(text, 'metric', { field: '--error' });
  if (rmseM >= 0 && rmseM <= mostErrorM) return rmseM;
  throw usage(
    `--error has '${text.trim()}' in it, which is no error of an elevation`,
    `give lengths from 0 to ${mostErrorM} m with a comma between them, for example 0.05,0.10`,
  );
}

/** How sure the answer is, with the counts behind it, and how that changes with the error. */
export interface CertaintyFound {
  readonly result: CertaintyResult;
  readonly tallies: Tallies;
  /** Null where one error was tried. */
  readonly sensitivity: Sensitivity | null;
}

/** Repeats the storm; the same call gives the same answer. */
export async function certaintyOf(
  call: Call,
  about: Pick<CertaintyInput, 'elevation' | 'plan' | 'rainMm'>,
  { surfaces, rmsesM }: CertaintyAsked,
): Promise<CertaintyFound> {
  const stated = about.plan.plan.lotfall.elevation?.rmse_m;
  const wanted = rmsesM.length > 0 ? rmsesM : [stated];
  const all: { result: CertaintyResult; tallies: Tallies }[] = [];
  for (const rmseM of wanted) {
    const errors = errorsOf(about.elevation.cellM, rmseM === undefined ? {} : { rmseM });
    const study = prepareCertainty({ ...about, errors, seed: 1 });
    const tallies = await untilSettled(
      (from, to) => Promise.resolve(certainty(study, { from, to })),
      {
        onProgress: (fraction, stage) => {
          call.onProgress((all.length + fraction) / wanted.length, stage);
        },
        ...(surfaces === undefined ? {} : { surfaces }),
      },
    );
    all.push({ result: summarise(study, tallies), tallies });
  }
  return {
    ...all[0],
    sensitivity: all.length < 2 ? null : sensitivity(all.map(({ result }) => result)),
  };
}

/** How probabilities change with the error tried: those that do, first of all. */
export function sensitivityTable(
  { errors, rows }: Sensitivity,
  lowSpots: readonly Pick<LowSpotRow, 'id' | 'number'>[],
  plan: LocalPlan,
  units: UnitSystem,
  mostSpots: number,
): string {
  const name = (id: string): string => nameById(plan.plan.features, id);
  const words = {
    building: (id: string) => `water stands at the wall of ${name(id)}`,
    basin: (id: string) => `${name(id)} fills to its overflow`,
    'low-spot': (id: string) =>
      `${lowSpotName(lowSpots.find((spot) => spot.id === id)?.number ?? 0)} is there`,
  };
  const others = rows.filter(({ about }) => about !== 'low-spot');
  const spots = rows.filter(({ about }) => about === 'low-spot').slice(0, mostSpots);
  return `Were the error of the heights another one\n${table(
    [
      ['', ...errors.map(({ rmse_m }) => formatLength(rmse_m, units))],
      ...[...others, ...spots].map(({ about, id, probabilities }) => [
        words[about](id),
        ...probabilities.map((probability) => `${Math.round(probability * 100)} %`),
      ]),
    ],
    `l${'r'.repeat(errors.length)}`,
  )}`;
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
      `${nameById(plan.plan.features, row.id)} fills to its overflow`,
      row.words ?? '',
      `${between(row.drains_m2_5, row.drains_m2_95, area)} drain to it`,
    ]),
    ...result.low_spots
      .slice(0, mostSpots)
      .map((row) => [
        `${lowSpotName(row.number)} is there`,
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

import { basename } from 'node:path';
import { isDesigned } from '../../../lib/basin/design/design-result';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { InputError } from '../../../lib/errors';
import { gardenLog, type GardenLog } from '../../../lib/handover/log/garden-log';
import { readLog, type LogRow } from '../../../lib/handover/log/read-log';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { csv } from '../../../lib/tables/write-csv';
import { formatRain } from '../../../lib/units/format';
import { formatRate } from '../../../lib/units/rate';
import { mmPerHOfMPerS, type UnitSystem } from '../../../lib/units/units';
import type { Command } from '../command';
import { gardensOf } from '../reading/gardens';
import { elevationHelp, elevationOptions } from '../reading/inputs';
import { noteLines } from '../notes';
import { orderOf } from '../reading/job';
import { readText } from '../reading/read-text';
import { table } from '../writing/table';
import { usage } from '../usage';

/** `lotfall built`: what a log of checks says of a garden. */
export const built: Command = {
  name: 'built',
  summary:
    'after building: what a log of rains and hours until dry says of the soil and the garden',
  help: `Usage: lotfall built <plan.geojson> [--elevation <file.tif|https://…>] --log log.csv

${elevationHelp}
  --log <file.csv>                      a row for each look: columns date, rain ('25 mm'; or rain mm, rain in), hours until
                                        dry after the rain ended ('>48' where it was still wet), and if you like rain hours,
                                        basin, note
  --date-order <month-first|day-first>  how dates such as 5/8/2027 are meant
  --out <file>                          .csv, .json or .txt

From every look the rate follows at which the soil took the water; together they give it with its uncertainty. Exit status 1
where a garden does not do what was designed.`,
  options: {
    ...elevationOptions,
    log: { type: 'string' },
    'date-order': { type: 'string' },
  },
  forms: ['.csv'],
  async run(call) {
    const path = call.option('log');
    if (path === undefined) throw usage('no log is named', 'add --log log.csv');
    const name = basename(path);
    const rows = readLog(await readText(path, 'the log'), name, orderOf(call));
    if (rows.length === 0) {
      throw new InputError({
        code: 'log-empty',
        where: name,
        problem: 'there is no look in it',
        remedy: 'write a row for each rain: date, rain, hours until dry',
      });
    }
    const { plan, survey, design, gardens, notes } = await gardensOf(call);
    const { elevation, plan: local, shape } = survey;
    const question = {
      elevation: elevation.grid,
      plan: local,
      shape,
      storm: stormOnGround(shape, local, eventDepthMm(plan.lotfall)),
    };
    const designed = design.basins.filter(isDesigned);
    const ofBasin = logByBasin(rows, designed);
    const logs = gardens.flatMap((garden) => {
      const each = designed.find(({ id }) => id === garden.built.id);
      const own = ofBasin.get(garden.built.id) ?? [];
      if (each === undefined || own.length === 0) return [];
      return [gardenLog(question, garden.built, each, own)];
    });
    const system = plan.lotfall.units ?? 'metric';
    return {
      text: [
        plan.lotfall.name ?? 'Log',
        ...logs.map((each) => logText(each, system)),
        ...(notes.length === 0 ? [] : [noteLines(notes)]),
      ].join('\n\n'),
      json: { basins: logs, notes },
      files: { '.csv': logTable(logs) },
      ruleFails: logs.some(({ result }) => result === 'fail'),
      alsoText: true,
    };
  },
};

/** Looks by the id of the basin that they are of. @throws {InputError} `log-basin` where that is not said, or is none. */
function logByBasin(
  rows: readonly LogRow[],
  basins: readonly { readonly id: string; readonly name: string }[],
): Map<string, LogRow[]> {
  const names = basins.map(({ name }) => `'${name}'`).join(', ');
  const byId = new Map<string, LogRow[]>();
  for (const row of rows) {
    const wanted = row.basin.toLowerCase();
    const found =
      wanted === ''
        ? basins.length === 1
          ? basins[0]
          : undefined
        : basins.find(({ id, name }) => [id, name].some((each) => each.toLowerCase() === wanted));
    if (found === undefined) {
      throw new InputError({
        code: 'log-basin',
        where: row.where,
        problem:
          wanted === ''
            ? 'it does not say which basin it is of'
            : `there is no basin '${row.basin}' in the plan`,
        remedy: `name one under 'basin': ${names}`,
      });
    }
    byId.set(found.id, [...(byId.get(found.id) ?? []), row]);
  }
  return byId;
}

const verdicts = {
  pass: 'It does what was designed.',
  check: 'It cannot be told yet whether it does what was designed.',
  fail: 'It does not do what was designed.',
} as const;

function logText(log: GardenLog, system: UnitSystem): string {
  const { refit } = log;
  const rate = (mmPerH: number | null): string =>
    mmPerH === null ? 'unknown' : formatRate(mmPerH / mmPerHOfMPerS, system);
  const rows = table(
    [
      ['  date', 'rain', 'dry after', 'reckoned', 'soil took', ''],
      ...log.rows.map((row) => [
        `  ${row.date}`,
        formatRain(row.rain_mm, system),
        `${row.still_wet ? '> ' : ''}${row.dry_h} h`,
        row.reckoned_h === null
          ? log.designed_mm_per_h === null
            ? 'unknown'
            : 'stays wet'
          : `${Math.round(row.reckoned_h)} h`,
        row.rate_mm_per_h === null
          ? 'not told'
          : `${row.still_wet ? 'at most ' : ''}${rate(row.rate_mm_per_h)}`,
        [row.why ?? '', row.note].filter((part) => part !== '').join('; '),
      ]),
    ],
    'lrrrrl',
  );
  return [
    log.name,
    rows,
    refit === null
      ? `Designed with ${rate(log.designed_mm_per_h)}; the log tells no rate.`
      : `Designed with ${rate(log.designed_mm_per_h)}; the garden shows ${rate(refit.rate_mm_per_h)}, between ${rate(refit.between_mm_per_h[0])} and ${rate(refit.between_mm_per_h[1])} (${refit.method}).`,
    `${verdicts[log.result]} ${log.why}`,
    `What to do\n${log.what_to_do.map((line) => `  ${line}`).join('\n')}`,
  ].join('\n\n');
}

function logTable(logs: readonly GardenLog[]): string {
  const text = (value: number | null): string => (value === null ? '' : value.toFixed(2));
  return csv([
    [
      'basin',
      'date',
      'rain_mm',
      'dry_h',
      'still_wet',
      'reckoned_h',
      'rate_mm_per_h',
      'in_time',
      'note',
    ],
    ...logs.flatMap(({ name, rows }) =>
      rows.map((row) => [
        name,
        row.date,
        text(row.rain_mm),
        text(row.dry_h),
        String(row.still_wet),
        text(row.reckoned_h),
        text(row.rate_mm_per_h),
        String(row.in_time),
        row.note,
      ]),
    ),
  ]);
}

import { makeFrame, localFrame, type FrameSpec } from '../../lib/frame/frame';
import type { Grid } from '../../lib/elevation/grid';
import { readWindow } from '../../lib/elevation/read-window';
import { InputError } from '../../lib/errors';
import { toLocal } from '../../lib/plan/local-plan';
import { planArea } from '../../lib/plan/plan-area';
import type { Plan } from '../../lib/plan/schema';
import { checkSetbacks } from '../../lib/setback/check';
import { ruleSetById, ruleSets } from '../../lib/setback/rule-sets';
import type { SetbackResult } from '../../lib/setback/setback-result';
import { setbackTable } from '../../lib/setback/setback-table';
import { formatLength, formatSlope } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import type { Call, Command } from './command';
import { elevationOf, elevationOptions, planOf, verticalUnitOf } from './inputs';
import { table } from './table';
import { usage } from './usage';

/** Ground read around the lot for slopes and sides, metres: as far as the rules about steep ground look. */
const marginM = 70;

/** `lotfall setbacks`: every rule at every basin and feature, with the distance measured. */
export const setbacks: Command = {
  name: 'setbacks',
  summary: 'each rule: measured and required distance, margin, result, source',
  help: `Usage: lotfall setbacks <plan.geojson> [--elevation <dem.tif|https://…>] [--rules <id>]

  --rules <id>                         ${ruleSets.map(({ id }) => id).join(', ')}; else the plan's own
  --on <date>                          day on which locates must be current (ISO), else today
  --elevation, -e <dem.tif|https://…>  for the rules about slope and what lies uphill; without it they answer 'check'
  --vertical-unit <unit>               m, ft or us-ft, where the file does not say in what its heights are
  --json                               rows with fields in metres as JSON
  --out <file>                         .json, .csv or .txt

Exit status 1 when a binding rule fails. A utility line without a current locate never passes.`,
  options: { ...elevationOptions, rules: { type: 'string' }, on: { type: 'string' } },
  async run(call) {
    const { plan, file } = await planOf(call);
    const { frame, elevation } = await placeOf(call, plan, file);
    const converter = makeFrame(frame);
    const local = toLocal(plan, converter);
    const basins = local.of.basin.map(({ id, feature, shape }) => ({
      id,
      name: feature.properties.name,
      rim: shape.rings[0],
    }));
    if (basins.length === 0) {
      throw new InputError({
        code: 'no-basin',
        where: file,
        problem: 'there is no basin in the plan to be checked',
        remedy: 'draw one, or look for places with lotfall sites',
      });
    }
    const found = checkSetbacks({
      plan: local,
      basins,
      ruleSet: ruleSetById(call.option('rules') ?? plan.lotfall.rule_set),
      ...(elevation === null ? {} : { elevation }),
      today: dayOf(call),
    });
    const json = {
      ...found,
      results: found.results.map((row) => ({
        ...row,
        nearest: row.nearest?.map((at) => converter.toLngLat(at)) ?? null,
      })),
    };
    return {
      text: words(found.results, plan.lotfall.units ?? 'metric', found.rule_set),
      json,
      files: { '.csv': setbackTable(found.results) },
      ruleFails: found.summary.must_fail > 0,
    };
  },
};

/** The frame to measure in: that of the elevation around the lot, or one centred on the plan. */
async function placeOf(
  call: Call,
  plan: Plan,
  file: string,
): Promise<{ frame: FrameSpec; elevation: Grid | null }> {
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line and a basin');
  const opened = await elevationOf(call);
  if (opened === null) {
    return {
      frame: localFrame([(area[0] + area[2]) / 2, (area[1] + area[3]) / 2]),
      elevation: null,
    };
  }
  const verticalUnitM = verticalUnitOf(call, plan);
  const { grid } = await readWindow(opened, {
    area,
    marginM,
    ...(verticalUnitM === undefined ? {} : { verticalUnitM }),
  });
  return { frame: grid.frame, elevation: grid };
}

/** The day that locates are judged on. */
export function dayOf(call: Call): string {
  const named = call.option('on');
  if (named === undefined) return new Date().toISOString().slice(0, 10);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(named) || Number.isNaN(Date.parse(named))) {
    throw usage(`'${named}' is no date`, 'write it as 2026-11-25');
  }
  return named;
}

const marks = { pass: '✓ meets', fail: '✕ fails', check: '? check' } as const;

function words(results: readonly SetbackResult[], units: UnitSystem, set: string): string {
  const rows = results.map((row) => [
    marks[row.result],
    row.basin,
    row.featureName,
    row.measured_m === null
      ? row.measured_slope === null
        ? ''
        : formatSlope(row.measured_slope)
      : formatLength(row.measured_m, units),
    row.required_m === null
      ? row.required_slope === null
        ? ''
        : formatSlope(row.required_slope)
      : formatLength(row.required_m, units),
    row.binding,
    `${row.title}${row.result === 'pass' ? '' : `: ${row.why}`}`,
  ]);
  const count = (result: SetbackResult['result']): number =>
    results.filter((row) => row.result === result).length;
  return `${table([['result', 'basin', 'feature', 'measured', 'required', 'binding', 'rule'], ...rows], 'lllrrll')}

Rule set ${set}: ${count('pass')} meet, ${count('fail')} fail, ${count('check')} cannot be judged. Local code governs.`;
}

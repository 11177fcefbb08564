import { makeFrame, localFrame, type FrameSpec } from '../../lib/frame/frame';
import { readWindow, type Elevation } from '../../lib/elevation/read-window';
import { InputError } from '../../lib/errors';
import { toLocal } from '../../lib/plan/local-plan';
import { planArea } from '../../lib/plan/plan-area';
import type { Plan } from '../../lib/plan/schema';
import { checkSetbacks } from '../../lib/setback/check';
import type { RuleSet } from '../../lib/setback/rule';
import { ruleSetById, ruleSets } from '../../lib/setback/rule-sets';
import type { SetbackFindings, SetbackResult, Verdict } from '../../lib/setback/setback-result';
import { setbackTable } from '../../lib/setback/setback-table';
import { formatLength, formatSlope } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import type { Call, Command } from './command';
import { dayHelp, dayOf, dayOption } from './day';
import { elevationOf, elevationOptions, planOf, verticalUnitHelp, verticalUnitOf } from './inputs';
import { noteLines, sentences } from './notes';
import { table } from './table';
import { usage } from './usage';

/** Ground read around the lot for slopes and sides, metres: as far as the rules about steep ground look. */
const marginM = 70;

/** `lotfall setbacks`: every rule at every basin and feature, with the distance measured. */
export const setbacks: Command = {
  name: 'setbacks',
  summary: 'each rule: measured and required distance, margin, result, source',
  help: `Usage: lotfall setbacks <plan.geojson> [--elevation <file.tif|https://…>] [--rules <id>]

  --rules <id>                          rule set, else the plan's: ${ruleSets
    .map(({ id }) => id)
    .join(', ')
    .replace(/(.{50,}?), /, `$1,\n${' '.repeat(40)}`)}
${dayHelp}
  --elevation, -e <file.tif|https://…>  for the rules about slope and what lies uphill, which cannot be judged without
${verticalUnitHelp}
  --json                                one row for each rule and feature as JSON, lengths in metres
  --out <file>                          .json, .csv or .txt

Exit status 1 when a binding rule ('must') fails. A utility line without a current locate never passes.`,
  options: { ...elevationOptions, ...dayOption, rules: { type: 'string' } },
  forms: ['.csv'],
  async run(call) {
    const { plan, file, notes } = await planOf(call);
    const ruleSet = ruleSetById(call.option('rules') ?? plan.lotfall.rule_set);
    const today = dayOf(call);
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
      ruleSet,
      ...(elevation === null ? {} : { elevation: elevation.grid }),
      today,
    });
    const remarks = sentences(notes, elevation?.notes.map((note) => note.text) ?? []);
    return {
      text: words(found, { plan, ruleSet, today, notes: remarks }),
      json: {
        ...found,
        today,
        results: found.results.map((row) => ({
          ...row,
          nearest: row.nearest?.map((at) => converter.toLngLat(at)) ?? null,
        })),
        notes: remarks,
      },
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
): Promise<{ frame: FrameSpec; elevation: Elevation | null }> {
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line and a basin');
  const opened = await elevationOf(call);
  if (opened === null) {
    return {
      frame: localFrame([(area[0] + area[2]) / 2, (area[1] + area[3]) / 2]),
      elevation: null,
    };
  }
  const elevation = await readWindow(opened, {
    area,
    marginM,
    ...(await verticalUnitOf(call, plan, opened, area)),
  });
  return { frame: elevation.grid.frame, elevation };
}

const marks: Readonly<Record<Verdict, string>> = {
  fail: '✕ fails',
  check: '? check',
  pass: '✓ meets',
};
const order: readonly Verdict[] = ['fail', 'check', 'pass'];

interface About {
  readonly plan: Plan;
  readonly ruleSet: RuleSet;
  readonly today: string;
  readonly notes: readonly string[];
}

function words({ results, summary }: SetbackFindings, about: About): string {
  const { plan, ruleSet, today, notes } = about;
  const units = plan.lotfall.units ?? 'metric';
  const basins = new Set(results.map((row) => row.basin));
  const names = new Map(plan.features.map(({ id, properties }) => [id, properties.name ?? id]));
  const sorted = order.flatMap((result) => results.filter((row) => row.result === result));
  const head = ['result', 'rule', 'at', 'measured', 'required', 'margin', 'binding'];
  const rows = [
    [...head, 'basin'],
    ...sorted.map((row) => [
      marks[row.result],
      row.title,
      row.feature_name,
      measured(row, units),
      required(row, units),
      row.margin_m === null ? '' : formatLength(row.margin_m, units),
      row.binding,
      names.get(row.basin) ?? row.basin,
    ]),
  ].map((row) => (basins.size > 1 ? row : row.slice(0, head.length)));
  const reasons = sorted
    .filter((row) => row.result !== 'pass')
    .map((row) => `${marks[row.result]}: ${row.title}, ${row.feature_name}. ${row.why}`);
  const must = summary.must_fail;
  return [
    table(rows, 'lllrrrll'),
    ...(reasons.length > 0 ? [[...new Set(reasons)].join('\n')] : []),
    `${ruleSet.title} (${ruleSet.id}), locates as of ${today}: ${summary.pass} met, ${summary.fail} failed${
      summary.fail > 0 ? ` (${must} of them binding)` : ''
    }, ${summary.check} cannot be judged. Local code governs.`,
    `Sources\n${sources(sorted).join('\n')}`,
    ...(notes.length > 0 ? [noteLines(notes)] : []),
  ].join('\n\n');
}

function measured(row: SetbackResult, units: UnitSystem): string {
  if (row.measured_m !== null) return formatLength(row.measured_m, units);
  return row.measured_slope === null ? '' : formatSlope(row.measured_slope);
}

/** A distance of nought is that of rules which forbid lying over something. */
function required(row: SetbackResult, units: UnitSystem): string {
  if (row.required_m === 0) return 'not over';
  if (row.required_m !== null) return formatLength(row.required_m, units);
  return row.required_slope === null ? '' : `≤ ${formatSlope(row.required_slope)}`;
}

function sources(results: readonly SetbackResult[]): string[] {
  const lines = results.map(({ source: { title, publisher, year, mark } }) =>
    mark === 'common practice, no source'
      ? mark
      : `${title}, ${publisher}, ${year ?? 'undated'} (${mark})`,
  );
  return [...new Set(lines)].map((line) => `  ${line}`);
}

import { csv } from '../../tables/write-csv';
import type { Verdict } from '../../verdict';
import type { LotFinding } from './check-lot';
import type { PlanState } from './count-findings';
import type { MadeFrom } from './made-from';
import type { FindingCounts, SetbackResult } from './setback-result';

type Cells<T> = readonly (readonly [name: string, cell: (row: T) => string])[];

/** A row of either kind: of a basin, or of the drainage of the lot. */
type AnyRow =
  | { readonly of: 'basin'; readonly row: SetbackResult }
  | { readonly of: 'lot'; readonly row: LotFinding };

const basinRow = ({ of, row }: AnyRow): SetbackResult | null => (of === 'basin' ? row : null);

const columns: Cells<AnyRow> = [
  ['basin', (each) => basinRow(each)?.basin ?? ''],
  ['rule', ({ row }) => row.rule],
  ['title', ({ row }) => row.title],
  ['binding', ({ row }) => row.binding],
  ['feature', ({ row }) => row.feature ?? ''],
  ['feature_name', ({ row }) => row.feature_name],
  ['required_m', ({ row }) => figure(row.required_m)],
  ['measured_m', ({ row }) => figure(row.measured_m)],
  ['margin_m', ({ row }) => figure(row.margin_m)],
  ['required_slope', (each) => figure(basinRow(each)?.required_slope)],
  ['measured_slope', (each) => figure(basinRow(each)?.measured_slope)],
  ['result', ({ row }) => row.result],
  ['why', ({ row }) => row.why],
  ['published', ({ row }) => row.published],
  ['source', ({ row: { source } }) => sourceCell(source)],
  ['accuracy_m', (each) => figure(basinRow(each)?.accuracy_m)],
  ['penetration_m', (each) => figure(basinRow(each)?.penetration_m)],
  ['required_h', (each) => figure(basinRow(each)?.required_h)],
  ['measured_h', (each) => figure(basinRow(each)?.measured_h)],
  ['required_depth_m', (each) => figure(basinRow(each)?.required_depth_m)],
  ['measured_depth_m', (each) => figure(basinRow(each)?.measured_depth_m)],
  ['letter', (each) => basinRow(each)?.letter ?? ''],
  ['section', ({ row }) => row.source.section ?? ''],
  ['measured_from', (each) => basinRow(each)?.measured_from ?? ''],
  ['measured_to', ({ of, row }) => (of === 'basin' ? (row.measured_to ?? '') : row.other_name)],
  ['edge_offset_m', (each) => figure(basinRow(each)?.edge_offset_m)],
  ['assumed', (each) => basinRow(each)?.assumed.join(' ') ?? ''],
  [
    'before_issue',
    ({ of, row }) => (of === 'basin' ? (row.before_issue ?? '') : lotBeforeIssue(row)),
  ],
];

function sourceCell({ title, publisher, year, mark }: SetbackResult['source']): string {
  return `${title}, ${publisher}${year === null ? '' : `, ${year}`} (${mark})`;
}

/** What settles an open row about the lot's drainage. */
function lotBeforeIssue({ result, ask }: LotFinding): string {
  return result === 'check' ? `ask ${ask}` : '';
}

/** What stands in every row, so that a row that is cut out still says what it belongs to. */
const madeColumns: Cells<Pick<JudgedPlan, 'day' | 'made'>> = [
  ['on', ({ day }) => day],
  ['program_version', ({ made }) => made.version],
  ['plan_sha256', ({ made }) => made.plan.sha256],
  ['elevation', ({ made }) => made.elevation?.file ?? ''],
  ['elevation_crc32', ({ made }) => made.elevation?.crc32 ?? ''],
  ['rule_set', ({ made }) => made.rule_set.id],
  ['rule_set_title', ({ made }) => made.rule_set.title],
  ['rule_set_sha256', ({ made }) => made.rule_set.sha256],
];

/** The rows of a setback check as CSV (RFC 4180), lengths in metres to the millimetre. */
export function setbackTable(results: readonly SetbackResult[]): string {
  return csv([namesOf(columns), ...results.map((row) => cellsOf(columns, { of: 'basin', row }))]);
}

/** A plan as it was judged. */
export interface JudgedPlan {
  /** How it was named. */
  readonly plan: string;
  /** The day that locates were judged on. */
  readonly day: string;
  readonly made: MadeFrom;
  readonly results: readonly SetbackResult[];
  readonly lot: readonly LotFinding[];
}

/** The rows of one plan alone, the same as in a table of several but for the plan's name. */
export function onePlanTable(judged: JudgedPlan): string {
  return csv([[...namesOf(columns), ...namesOf(madeColumns)], ...rowsOf(judged)]);
}

/** The head of a table with a row for each rule and plan. */
export const ruleTableHead = csv([['plan', ...namesOf(columns), ...namesOf(madeColumns)]]);

/** The rows of one plan for that table, the worst first: rules about basins, then those about the lot's drainage. */
export function ruleRows(judged: JudgedPlan): string {
  return csv(rowsOf(judged).map((cells) => [judged.plan, ...cells]));
}

function rowsOf(judged: JudgedPlan): string[][] {
  const rows: AnyRow[] = [
    ...judged.results.map((row): AnyRow => ({ of: 'basin', row })),
    ...judged.lot.map((row): AnyRow => ({ of: 'lot', row })),
  ].sort((a, b) => badness[b.row.result] - badness[a.row.result]);
  const made = cellsOf(madeColumns, judged);
  return rows.map((row) => [...cellsOf(columns, row), ...made]);
}

const badness: Readonly<Record<Verdict, number>> = { fail: 2, check: 1, pass: 0 };

/** The row of a plan that could not be read, in the table of rules. */
export function unreadRuleRow(plan: string, why: string): string {
  const cells = columns.map(([name]) =>
    name === 'result' ? 'not-read' : name === 'why' ? why : '',
  );
  return csv([[plan, ...cells, ...madeColumns.map(() => '')]]);
}

/** One plan of many in a few figures: all that is kept of it. */
export interface PlanRow {
  readonly plan: string;
  readonly state: PlanState | 'not-read';
  /** Of basins and of the lot's drainage together; `null` where the plan could not be read. */
  readonly counts: FindingCounts | null;
  /** The worst result in words, or why the plan could not be read. */
  readonly worst: string;
  readonly about: Pick<JudgedPlan, 'day' | 'made'> | null;
}

const planColumns: Cells<PlanRow> = [
  ['plan', ({ plan }) => plan],
  ['state', ({ state }) => state],
  ['must_fail', ({ counts }) => whole(counts?.must_fail)],
  ['must_check', ({ counts }) => whole(counts?.must_check)],
  ['fail', ({ counts }) => whole(counts?.fail)],
  ['check', ({ counts }) => whole(counts?.check)],
  ['pass', ({ counts }) => whole(counts?.pass)],
  ['worst', ({ worst }) => worst],
];

/** A row for each plan, in the order given. */
export function planTable(rows: readonly PlanRow[]): string {
  return csv([
    [...namesOf(planColumns), ...namesOf(madeColumns)],
    ...rows.map((row) => [
      ...cellsOf(planColumns, row),
      ...(row.about === null ? madeColumns.map(() => '') : cellsOf(madeColumns, row.about)),
    ]),
  ]);
}

const states: readonly PlanRow['state'][] = ['fails', 'not-read', 'unjudged', 'meets'];

/** Plans with the worst first: those that fail, that could not be read, that could not be judged, then the rest. */
export function worstFirst<T extends Pick<PlanRow, 'state' | 'counts'>>(rows: readonly T[]): T[] {
  const weight = ({ counts }: T): number =>
    counts === null
      ? 0
      : ((counts.must_fail * 1e3 + counts.must_check) * 1e3 + counts.fail) * 1e3 + counts.check;
  return [...rows].sort(
    (a, b) => states.indexOf(a.state) - states.indexOf(b.state) || weight(b) - weight(a),
  );
}

function namesOf<T>(cells: Cells<T>): string[] {
  return cells.map(([name]) => name);
}

function cellsOf<T>(cells: Cells<T>, row: T): string[] {
  return cells.map(([, cell]) => cell(row));
}

function figure(value: number | null | undefined): string {
  return value === null || value === undefined ? '' : value.toFixed(3);
}

function whole(value: number | undefined): string {
  return value === undefined ? '' : String(value);
}

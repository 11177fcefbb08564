import type { BasinRow, DrainageResult } from '../../../../lib/drainage/answer/drainage-result';
import type { DesignResult } from '../../../../lib/basin/design/design-result';
import type { Grid } from '../../../../lib/elevation/grid';
import { makeFrame, type Frame, type FrameSpec, type LngLat } from '../../../../lib/frame/frame';
import { areaM2 } from '../../../../lib/frame/shapes';
import { groundWithoutBasins } from '../../../../lib/ground/ground';
import { toLocal } from '../../../../lib/plan/local-plan';
import type { Plan } from '../../../../lib/plan/schema';
import { checkSetbacks } from '../../../../lib/setback/judge/check-setbacks';
import { checkedBasins, type KnownOfBasin } from '../../../../lib/setback/rules/checked-basins';
import { designedDrainDownH } from '../../../../lib/setback/water/designed-drain-down';
import { designedOverflow } from '../../../../lib/setback/water/designed-overflow';
import type { LocateRequest } from '../../../../lib/setback/locate/locate-request';
import { clearLocates } from '../../../../lib/setback/locate/locates';
import { ruleSetOf } from '../../../../lib/setback/sets/rule-sets';
import type { SetbackFindings, SetbackResult } from '../../../../lib/setback/judge/setback-result';
import type { Verdict } from '../../../../lib/verdict';
import { formatLength, formatSlope } from '../../../../lib/units/format';
import type { LngLatBox } from '../../../../lib/plan/plan-area';
import type { UnitSystem } from '../../../../lib/units/units';

/** One measured distance, between the nearest points of the basin and of what it must keep clear of. */
export interface Margin {
  readonly id: string;
  readonly from: LngLat;
  readonly to: LngLat;
  /** With its unit, rounded, for example '5.7 m'. */
  readonly measured: string;
  /** For example 'needs 3.05 m'. */
  readonly required?: string;
  readonly result: Verdict;
}

/** Today by the user's calendar, as an ISO date. */
export function today(): string {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** What the water computed last says to the rules; it may belong to the plan of a moment ago. */
export interface WaterForRules {
  readonly result: Pick<DrainageResult, 'basins'>;
  /** Standing water by cell of the ground without basins, metres; null when there is no basin. */
  readonly depthBeforeM: Float32Array | null;
}

/** All rules at all basins of a plan; null for a plan without a basin or without a place. */
export function setbackFindings(
  plan: Plan,
  frame: FrameSpec | null,
  elevation: Grid | null,
  water: WaterForRules | null = null,
  design: DesignResult | null = null,
): SetbackFindings | null {
  if (frame === null || !plan.features.some(({ properties }) => properties.kind === 'basin')) {
    return null;
  }
  const converter = makeFrame(frame);
  const local = toLocal(plan, converter);
  const depthM = water?.depthBeforeM ?? null;
  return checkSetbacks({
    plan: local,
    basins: checkedBasins(local, (id) => {
      const row = water?.result.basins.find((each) => each.id === id);
      return {
        ...waysOf(design, id, row, converter),
        drainDownH: design === null ? undefined : designedDrainDownH(design, id),
      };
    }),
    ruleSet: ruleSetOf(plan.lotfall),
    elevation: elevation === null ? undefined : groundWithoutBasins(elevation, local),
    locates: clearLocates(local),
    today: today(),
    soil: plan.lotfall.soil,
    // Water of another window would be read at the wrong places.
    standing:
      elevation === null || depthM?.length !== elevation.z.length
        ? undefined
        : { grid: elevation, depthM },
  });
}

type Overflow = Pick<KnownOfBasin, 'overflowWays' | 'overflowVerdict'>;
const ways = new WeakMap<object, { frame: FrameSpec; ways: Overflow | undefined }>();

/**
 * The ways of a basin's overflow in local metres: by the design where there is one, else by the water. Worked out once
 * for each answer, for a basin is dragged at pointer speed.
 */
function waysOf(
  design: DesignResult | null,
  id: string,
  row: BasinRow | undefined,
  frame: Frame,
): Overflow | undefined {
  const designed = design?.basins.find((each) => each.id === id);
  const from = designed ?? row;
  if (from === undefined) return undefined;
  const before = ways.get(from);
  if (before?.frame === frame.spec) return before.ways;
  const legs = row?.overflow_legs.flatMap(({ by, points }) =>
    by === 'ground' ? [points.map((at) => frame.toLocal(at))] : [],
  );
  const found =
    (design === null ? undefined : designedOverflow(design, id, frame)) ??
    (legs && { overflowWays: legs });
  ways.set(from, { frame: frame.spec, ways: found });
  return found;
}

/** The locate request for the basins of a plan, and the same as text; null without a basin or a place. */
export async function locateRequestOf(
  plan: Plan,
  frame: FrameSpec | null,
): Promise<{ readonly request: LocateRequest; readonly text: string } | null> {
  if (frame === null) return null;
  const local = toLocal(plan, makeFrame(frame));
  const basins = checkedBasins(local);
  if (basins.length === 0) return null;
  const [{ locateRequest, locateTerms }, { locateRequestText }] = await Promise.all([
    import('../../../../lib/setback/locate/locate-request'),
    import('../../../../lib/setback/locate/locate-request-text'),
  ]);
  const request = await locateRequest({
    plan: local,
    basins,
    ...locateTerms(ruleSetOf(plan.lotfall)),
    locates: clearLocates(local),
    today: today(),
  });
  return { request, text: locateRequestText(request, plan.lotfall.units ?? 'metric') };
}

/** What a row measured, in the user's units: a distance, a depth, a time, a slope, or nothing. */
export function measuredText(row: SetbackResult, units: UnitSystem): string {
  if (row.measured_m !== null) return formatLength(row.measured_m, units);
  if (row.measured_h !== null) return hoursText(row.measured_h);
  if (row.measured_depth_m !== null) return formatLength(row.measured_depth_m, units);
  return row.measured_slope === null ? '' : formatSlope(row.measured_slope);
}

/** What a row asks for, in the user's units; a distance of nought is that of rules which forbid lying over something. */
export function requiredText(row: SetbackResult, units: UnitSystem): string {
  if (row.required_m !== null) {
    return row.required_m === 0 ? 'not over' : formatLength(row.required_m, units);
  }
  const most = row.limit === 'most' ? 'at most ' : 'at least ';
  if (row.required_h !== null) return most + hoursText(row.required_h);
  if (row.required_depth_m !== null) return most + formatLength(row.required_depth_m, units);
  return row.required_slope === null ? '' : most + formatSlope(row.required_slope);
}

/** What a row asks for as said beside what it measured: 'needs 3.05 m'. */
export function needsText(row: SetbackResult, units: UnitSystem): string {
  const required = requiredText(row, units);
  return required === '' || row.required_m === 0 ? required : `needs ${required}`;
}

function hoursText(hours: number): string {
  return `${hours < 10 ? hours.toFixed(1) : hours.toFixed(0)} h`;
}

/** A name for a row that no other row shares. */
export function rowKey(row: SetbackResult): string {
  return `${row.basin} ${row.rule} ${row.feature ?? row.feature_name}`;
}

/** The ground around the place where a row was measured, for looking at it; null where it was measured nowhere. */
export function placeOfRow(row: SetbackResult, frame: FrameSpec | null): LngLatBox | null {
  if (frame === null || row.nearest === null) return null;
  const { toLngLat } = makeFrame(frame);
  const [[x0, y0], [x1, y1]] = row.nearest;
  const [west, south] = toLngLat([Math.min(x0, x1) - aroundM, Math.min(y0, y1) - aroundM]);
  const [east, north] = toLngLat([Math.max(x0, x1) + aroundM, Math.max(y0, y1) + aroundM]);
  return [west, south, east, north];
}

/** Room around a measured distance when it is looked at, metres. A choice for legibility. */
const aroundM = 4;

/** How many distances are drawn at once before they hide the plan. A choice for legibility. */
const mostDrawn = 5;

/**
 * The distances to draw: the tightest ones, one for each feature, and the one that is pointed at.
 *
 * @param pointedAt - the row's key, see `rowKey`.
 */
export function marginsOf(
  findings: SetbackFindings | null,
  frame: FrameSpec | null,
  units: UnitSystem,
  pointedAt: string | null = null,
): Margin[] {
  if (findings === null || frame === null) return [];
  const { toLngLat } = makeFrame(frame);
  const drawn = new Set<string>();
  const margins: Margin[] = [];
  for (const row of findings.results) {
    // A rule that only forbids lying over something has no distance worth drawing.
    const asked = rowKey(row) === pointedAt;
    if (row.nearest === null || row.measured_m === null) continue;
    const key = `${row.basin} ${row.feature ?? row.rule}`;
    const left = row.required_m === 0 || drawn.has(key) || drawn.size >= mostDrawn;
    if (left && !asked) continue;
    drawn.add(key);
    margins.push({
      id: rowKey(row),
      from: toLngLat(row.nearest[0]),
      to: toLngLat(row.nearest[1]),
      measured: measuredText(row, units),
      required: needsText(row, units),
      result: row.result,
    });
  }
  return margins;
}

/** Areas of all polygons of a plan on the ground, by id, m2. */
export function areasOf(plan: Plan, frame: FrameSpec | null): ReadonlyMap<string, number> {
  if (frame === null) return new Map();
  const local = toLocal(plan, makeFrame(frame));
  const areas = new Map<string, number>();
  for (const [id, { shape }] of local.byId) {
    if (shape.type === 'polygon') areas.set(id, areaM2(shape.rings));
  }
  return areas;
}

import type { Grid } from '../../../lib/elevation/grid';
import { makeFrame, type FrameSpec } from '../../../lib/frame/frame';
import { areaM2 } from '../../../lib/frame/shapes';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';
import { checkSetbacks } from '../../../lib/setback/check';
import { ruleSetById } from '../../../lib/setback/rule-sets';
import type { SetbackFindings, SetbackResult } from '../../../lib/setback/setback-result';
import { formatLength, formatSlope } from '../../../lib/units/format';
import type { Margin, UnitSystem } from '../map/map-props';

/** Today by the user's calendar, as an ISO date. */
export function today(): string {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** All rules at all basins of a plan; null for a plan without a basin or without a place. */
export function setbackFindings(
  plan: Plan,
  frame: FrameSpec | null,
  elevation: Grid | null,
): SetbackFindings | null {
  if (frame === null) return null;
  const local = toLocal(plan, makeFrame(frame));
  const basins = local.of.basin.map(({ id, feature, shape }) => ({
    id,
    name: feature.properties.name,
    rim: shape.rings[0],
  }));
  if (basins.length === 0) return null;
  return checkSetbacks({
    plan: local,
    basins,
    ruleSet: ruleSetById(plan.lotfall.rule_set),
    ...(elevation === null ? {} : { elevation }),
    today: today(),
  });
}

/** What a row measured, in the user's units: a distance, a slope, or nothing. */
export function measuredText(row: SetbackResult, units: UnitSystem): string {
  if (row.measured_m !== null) return formatLength(row.measured_m, units);
  return row.measured_slope === null ? '' : formatSlope(row.measured_slope);
}

/** What a row asks for, in the user's units. */
export function requiredText(row: SetbackResult, units: UnitSystem): string {
  if (row.required_m !== null) return formatLength(row.required_m, units);
  return row.required_slope === null ? '' : formatSlope(row.required_slope);
}

/** A name for a row that no other row shares. */
export function rowKey(row: SetbackResult): string {
  return `${row.basin} ${row.rule} ${row.feature ?? ''}`;
}

/** How many distances are drawn at once before they hide the plan. A choice for legibility. */
const mostDrawn = 5;

/** The distances to draw: the tightest ones, one for each feature. */
export function marginsOf(
  findings: SetbackFindings | null,
  frame: FrameSpec | null,
  units: UnitSystem,
): Margin[] {
  if (findings === null || frame === null) return [];
  const { toLngLat } = makeFrame(frame);
  const drawn = new Set<string>();
  const margins: Margin[] = [];
  for (const row of findings.results) {
    // A rule that only forbids lying over something has no distance worth drawing.
    if (row.nearest === null || row.measured_m === null || row.required_m === 0) continue;
    const key = `${row.basin} ${row.feature ?? row.rule}`;
    if (drawn.has(key) || margins.length >= mostDrawn) continue;
    drawn.add(key);
    margins.push({
      id: rowKey(row),
      from: toLngLat(row.nearest[0]),
      to: toLngLat(row.nearest[1]),
      measured: measuredText(row, units),
      required: `needs ${requiredText(row, units)}`,
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

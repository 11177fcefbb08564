import type { CoordinateSystem } from '../../../lib/elevation/system/coordinate-system';
import { makeFrame, type Frame, type LngLat } from '../../../lib/frame/frame';
import type { Plan } from '../../../lib/plan/schema';
import { footM } from '../../../lib/units/units';
import type { UnitSystem } from '../../../lib/units/units';
import { lengthText } from '../look/height-text';

/** Where a place lies, in one system. */
export interface Whereabouts {
  /** What it is counted in. */
  readonly system: string;
  readonly text: string;
}

/**
 * Where a place lies: from the lot's corner, on the globe, and in the system of the elevation.
 *
 * @param frame - null where there is none to measure in. @param system - of the elevation; null without one.
 */
export function whereabouts(
  place: LngLat,
  plan: Plan,
  frame: Frame | null,
  system: CoordinateSystem | null,
  units: UnitSystem,
): Whereabouts[] {
  const found: Whereabouts[] = [];
  const corner = frame === null ? null : southWestCorner(plan, frame);
  if (frame !== null && corner !== null) {
    const [x, y] = frame.toLocal(place);
    found.push({
      system: 'from the lot’s south-west corner',
      text: `${towards(x - corner[0], ['east', 'west'], units)}, ${towards(y - corner[1], ['north', 'south'], units)}`,
    });
  }
  const [lng, lat] = place;
  found.push({
    system: 'on the globe',
    text: `${degrees(lat, ['N', 'S'])}, ${degrees(lng, ['E', 'W'])}`,
  });
  if (system !== null) found.push({ system: system.name, text: inSystem(place, system) });
  return found;
}

/** The corner of the own lot that lies furthest to the south-west, in its frame. */
function southWestCorner(plan: Plan, frame: Frame): readonly [number, number] | null {
  const lots = plan.features.filter(({ properties }) => properties.kind === 'lot');
  const lot = lots.find(({ properties }) => properties['own'] === true) ?? lots.at(0);
  if (lot?.geometry.type !== 'Polygon') return null;
  const corners = lot.geometry.coordinates[0].map((at) => frame.toLocal(at));
  return corners.reduce((a, b) => (b[0] + b[1] < a[0] + a[1] ? b : a));
}

function towards(metres: number, [ahead, back]: readonly [string, string], units: UnitSystem) {
  return `${lengthText(Math.abs(metres), units)} ${metres < 0 ? back : ahead}`;
}

/** Seven decimals are a centimetre on the ground. */
function degrees(value: number, [ahead, back]: readonly [string, string]): string {
  return `${Math.abs(value).toFixed(7)}° ${value < 0 ? back : ahead}`;
}

function inSystem(place: LngLat, system: CoordinateSystem): string {
  const { definition, unitFactor, kind, unitM } = system;
  const [east, north] = makeFrame({
    projection: definition,
    originEast: 0,
    originNorth: 0,
    metresPerUnit: 1 / unitFactor,
  }).toLocal(place);
  if (kind === 'degrees') return `${north.toFixed(7)}, ${east.toFixed(7)}`;
  const unit = unitM !== null && Math.abs(unitM - footM) < 1e-5 ? 'ft' : unitM === 1 ? 'm' : '';
  return `${east.toFixed(2)} E, ${north.toFixed(2)} N ${unit}`.trim();
}

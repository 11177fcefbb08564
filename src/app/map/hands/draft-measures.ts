import type { Position } from 'geojson';
import type { Frame, LngLat, XY } from '../../../../lib/frame/frame';
import { areaText, lengthText } from '../../look/height-text';
import { areaM2 as areaOf } from '../../../../lib/frame/shapes';
import { labelPoint } from '../layers/label-point';
import type { Draft } from '../layers/draft';
import type { PlanGeometry } from '../../state/plan/plan-geometry';
import type { UnitSystem } from '../../../../lib/units/units';

/** One measured side of what is being drawn. */
export interface SideMeasure {
  readonly from: LngLat;
  readonly to: LngLat;
  readonly text: string;
}

export interface DraftMeasures {
  readonly sides: readonly SideMeasure[];
  /** The area with the place to write it, for an area of three corners and more. */
  readonly area: { readonly at: LngLat; readonly text: string } | null;
}

/** Measures of what is in the pointer's hand; null for a change to a feature of many corners, or to no outline. */
export function measuresOf(
  draft: Draft | null,
  frame: Frame,
  units: UnitSystem,
): DraftMeasures | null {
  if (draft?.part !== 'geometry' || (draft.id !== null && !isSparse(draft.geometry))) return null;
  return draftMeasures(draft.geometry, frame, units);
}

/** Whether a feature has so few corners that their sides are worth measuring while one is dragged. */
function isSparse(geometry: PlanGeometry): boolean {
  return geometry.type !== 'Polygon' || geometry.coordinates.every((ring) => ring.length <= 9);
}

/** Lengths of the sides, and the area, of a geometry in the pointer's hand. */
export function draftMeasures(
  geometry: PlanGeometry,
  frame: Frame,
  units: UnitSystem,
): DraftMeasures {
  if (geometry.type === 'Point') return { sides: [], area: null };
  const lines = geometry.type === 'Polygon' ? geometry.coordinates : [geometry.coordinates];
  const local = lines.map((line) => line.map(([lng, lat]) => frame.toLocal([lng, lat])));
  const sides = lines.flatMap((line, nth) => sidesOf(line, local[nth], units));
  if (geometry.type !== 'Polygon') return { sides, area: null };
  const [ring, ...holes] = local;
  const areaM2 = areaOf([ring, ...holes]);
  if (areaM2 < 0.05) return { sides, area: null };
  return {
    sides,
    area: { at: frame.toLngLat(labelPoint(ring, holes)), text: areaText(areaM2, units) },
  };
}

function sidesOf(
  line: readonly Position[],
  local: readonly XY[],
  units: UnitSystem,
): SideMeasure[] {
  const sides: SideMeasure[] = [];
  for (let i = 0; i + 1 < line.length; i++) {
    const lengthM = distance(local[i], local[i + 1]);
    if (lengthM < 0.01) continue;
    sides.push({
      from: place(line[i]),
      to: place(line[i + 1]),
      text: lengthText(lengthM, units),
    });
  }
  return sides;
}

function distance(a: XY, b: XY): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function place([lng, lat]: Position): LngLat {
  return [lng, lat];
}

import type { Position } from 'geojson';
import type { Frame, LngLat, XY } from '../../../lib/frame/frame';
import { areaText, lengthText } from './height-text';
import { labelPoint, signedArea } from './inset-ring';
import type { PlanGeometry, UnitSystem } from './map-props';

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

/** Lengths of the sides, and the area, of a geometry in the pointer's hand. */
export function draftMeasures(
  geometry: PlanGeometry,
  frame: Frame,
  units: UnitSystem,
): DraftMeasures {
  if (geometry.type === 'Point') return { sides: [], area: null };
  const line = geometry.type === 'Polygon' ? geometry.coordinates[0] : geometry.coordinates;
  const local = line.map(([lng, lat]) => frame.toLocal([lng, lat]));
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
  if (geometry.type !== 'Polygon') return { sides, area: null };
  const areaM2 = Math.abs(signedArea(local)) / 2;
  if (areaM2 < 0.05) return { sides, area: null };
  return {
    sides,
    area: { at: frame.toLngLat(labelPoint(local)), text: areaText(areaM2, units) },
  };
}

function distance(a: XY, b: XY): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function place([lng, lat]: Position): LngLat {
  return [lng, lat];
}

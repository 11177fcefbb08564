import { contours as marchingSquares } from 'd3-contour';
import type { XY } from '../../frame/frame';
import { areaM2, boundsOf, contains, type Ring, type Rings } from '../../frame/shapes';
import { RimDistance } from '../../ground/rim-distance';
import type { Source } from '../../source';
import type { FinishedBasin } from './finished-basin';

export type ZoneName = 'edge' | 'middle' | 'deep';

/** Part of a basin where plants meet the same water. */
export interface PlantingZone {
  readonly zone: ZoneName;
  readonly areaM2: number;
  /** Polygons in local metres, each an outer ring and its holes. */
  readonly polygons: readonly Rings[];
  /** Water over the zone when the basin is full to its sill, metres, from shallowest to deepest. */
  readonly waterM: readonly [number, number];
}

/** The three zones: a base that stands in water, a slope that is wet at times, an edge that stays dry. */
export const zonesSource: Source = {
  title: 'Native plants for New England rain gardens',
  publisher:
    'University of New Hampshire extension and New Hampshire Department of Environmental Services',
  year: null,
  mark: 'seen',
};

/** From this share of the ponding depth on the zone is the deep one. Our choice, no source. */
const deepShare = 0.5;
/** The lines between zones are found on a lattice with this many places across, metres between the limits. */
const placesAcross = 96;
const latticeM = { from: 0.01, to: 0.25 } as const;

/**
 * The planting zones inside the rim by the water over them when it is full: the edge stays dry, in the middle up to half
 * the ponding depth stands, in the deep zone more. Where there is no freeboard there is no edge.
 *
 * The lines between them lie at a distance from the rim, as the sides slope evenly. Areas are those of the polygons, and
 * sum to that of the outline.
 */
export function plantingZones({ shape, form }: FinishedBasin): PlantingZone[] {
  const { sideSlope, freeboardM, pondingDepthM } = form;
  const whole: Rings[] = [[shape.rim]];
  const wet = freeboardM > 0 ? insetPolygons(shape.rim, freeboardM * sideSlope) : whole;
  const deepFromM = deepShare * pondingDepthM;
  const deep =
    pondingDepthM > 0 ? insetPolygons(shape.rim, (freeboardM + deepFromM) * sideSlope) : [];
  const zones: PlantingZone[] = [
    zoneOf('edge', without(whole, wet), [0, 0]),
    zoneOf('middle', without(wet, deep), [0, deepFromM]),
    zoneOf('deep', deep, [deepFromM, pondingDepthM]),
  ];
  return zones.filter((zone) => zone.areaM2 > 0);
}

function zoneOf(
  zone: ZoneName,
  polygons: readonly Rings[],
  waterM: readonly [number, number],
): PlantingZone {
  return {
    zone,
    areaM2: polygons.reduce((sum, rings) => sum + areaM2(rings), 0),
    polygons,
    waterM,
  };
}

/** Polygons with the outer rings of others, that lie inside them, as further holes. */
function without(polygons: readonly Rings[], inner: readonly Rings[]): Rings[] {
  return polygons
    .map((rings): Rings => {
      const holes = inner
        .map(([outer]) => outer)
        .filter((ring) => isSame(ring, rings[0]) || contains(rings, ring[0]));
      return holes.some((ring) => isSame(ring, rings[0])) ? [] : [...rings, ...holes];
    })
    .filter((rings) => rings.length > 0);
}

function isSame(a: Ring, b: Ring): boolean {
  return a === b;
}

/** The part of an outline that lies farther than a distance inside it: none, one or several polygons. */
function insetPolygons(rim: Ring, byM: number): Rings[] {
  const { west, south, east, north } = boundsOf(rim);
  const stepM = Math.min(
    latticeM.to,
    Math.max(latticeM.from, Math.max(east - west, north - south) / placesAcross),
  );
  const width = Math.ceil((east - west) / stepM) + 3;
  const height = Math.ceil((north - south) / stepM) + 3;
  // a step around the outline, so that every line closes
  const originX = west - stepM;
  const originY = north + stepM;
  const distance = new RimDistance(rim);
  const insideM = new Float64Array(width * height);
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      distance.look(originX + column * stepM, originY - row * stepM);
      insideM[i] = distance.isInside ? distance.awayM : -distance.awayM;
    }
  }
  const values = insideM as unknown as number[];
  const found = marchingSquares().size([width, height]).smooth(true).contour(values, byM);
  return found.coordinates.map((polygon): Rings =>
    polygon.map((ring) =>
      // a lattice place is the middle of the library's cell
      ring
        .slice(0, -1)
        .map(([x, y]): XY => [originX + (x - 0.5) * stepM, originY - (y - 0.5) * stepM]),
    ),
  );
}

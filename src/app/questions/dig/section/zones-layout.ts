import type { PlantingZone, ZoneName } from '../../../../../lib/basin/form/planting-zones';
import type { XY } from '../../../../../lib/frame/frame';
import { boundsOf, contains, type Rings } from '../../../../../lib/frame/shapes';
import { formatArea } from '../../../../../lib/units/format';
import { footM, type UnitSystem } from '../../../../../lib/units/units';
import type { Point } from './drawn-section';

/** A plan of the planting zones, in pixels, north up. */
export interface ZonesLayout {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pxPerM: number;
  readonly zones: readonly {
    readonly zone: ZoneName;
    readonly path: string;
    /** From a place in the zone to its name. */
    readonly leader: readonly [Point, Point];
    readonly text: string;
  }[];
  /** Where water leaves, and where to: a short arrow. */
  readonly notch: readonly [Point, Point];
  readonly north: Point;
  readonly scaleBar: { readonly from: Point; readonly to: Point; readonly text: string };
}

export interface ZonesOptions {
  readonly widthPx: number;
  readonly units: UnitSystem;
  readonly textWidth: (text: string) => number;
}

const padPx = 22;
const bottomPx = 30;
const mostHeightPx = 260;
const lineGapPx = 16;
/** How high in the basin each zone's leader starts, as a share from its middle to its north or south end. */
const leaderShare: Readonly<Record<ZoneName, number>> = { edge: 0.5, middle: 0, deep: -0.4 };

export function zonesLayout(
  zones: readonly PlantingZone[],
  overflowAt: XY,
  { widthPx, units, textWidth }: ZonesOptions,
): ZonesLayout {
  const outer = zones.flatMap(({ polygons }) => polygons.map(([ring]) => ring)).flat();
  const { west, south, east, north } = boundsOf(outer);
  const texts = zones.map(({ zone, areaM2 }) => `${zone} ${formatArea(areaM2, units)}`);
  const columnPx = Math.max(0, ...texts.map(textWidth)) + 16;
  const pxPerM = Math.min(
    (widthPx - 2 * padPx - columnPx) / (east - west),
    (mostHeightPx - 2 * padPx) / (north - south),
  );
  const at = ([x, y]: XY): Point => [padPx + (x - west) * pxPerM, padPx + (north - y) * pxPerM];
  const columnX = padPx + (east - west) * pxPerM + padPx;
  const heightPx = 2 * padPx + (north - south) * pxPerM + bottomPx;

  const middle: XY = [(west + east) / 2, (south + north) / 2];
  const starts = zones.map(({ zone, polygons }) => {
    const y = middle[1] + leaderShare[zone] * (north - middle[1]);
    return at(placeIn(polygons, y, west, east) ?? polygons[0][0][0]);
  });
  let lastY = -Infinity;
  const placed = zones.map(({ zone, polygons }, i) => {
    const y = Math.max(starts[i][1], lastY + lineGapPx);
    lastY = y;
    return {
      zone,
      path: polygons.map((rings) => ringsPath(rings, at)).join(''),
      leader: [starts[i], [columnX, y]] as const,
      text: texts[i],
    };
  });

  const out: XY = [overflowAt[0] - middle[0], overflowAt[1] - middle[1]];
  const long = Math.hypot(...out) || 1;
  const from = at(overflowAt);
  const arrowPx = 16;
  const unitM = units === 'us' ? footM : 1;
  const bar =
    [20, 10, 5, 2, 1, 0.5].find((step) => step * unitM * pxPerM <= Math.max(40, widthPx * 0.3)) ??
    0.5;
  const barY = heightPx - 10;
  return {
    widthPx,
    heightPx,
    pxPerM,
    zones: placed,
    notch: [from, [from[0] + (out[0] / long) * arrowPx, from[1] - (out[1] / long) * arrowPx]],
    north: [widthPx - 12, 12],
    scaleBar: {
      from: [padPx, barY],
      to: [padPx + bar * unitM * pxPerM, barY],
      text: `${bar} ${units === 'us' ? 'ft' : 'm'}`,
    },
  };
}

function ringsPath(rings: Rings, at: (place: XY) => Point): string {
  return rings
    .map(
      (ring) =>
        `M${ring
          .map((corner) =>
            at(corner)
              .map((v) => v.toFixed(1))
              .join(' '),
          )
          .join('L')}Z`,
    )
    .join('');
}

/** The middle of the easternmost stretch of a level line that lies in any of the polygons. */
function placeIn(
  polygons: readonly Rings[],
  y: number,
  west: number,
  east: number,
): XY | undefined {
  const steps = 400;
  const x = (i: number): number => west + ((east - west) * i) / steps;
  const isIn = (i: number): boolean => polygons.some((rings) => contains(rings, [x(i), y]));
  let last = steps;
  while (last > 0 && !isIn(last)) last--;
  if (last === 0) return undefined;
  let first = last;
  while (first > 0 && isIn(first - 1)) first--;
  // near its eastern end, so that the leader is short
  return [Math.max(x((first + last) / 2), x(last) - (east - west) / 12), y];
}

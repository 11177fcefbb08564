import type { XY } from '../../frame/frame';
import { closedRings, polygonsIn } from '../../frame/geometry-rings';
import { contains, type Ring, type Rings, type Shape } from '../../frame/shapes';
import { boundaryDistance, outlineOf } from './outline';

/** A curve is drawn no farther than this inside the true one, metres. */
const curveErrorM = 0.004;

/**
 * Every point within a distance of a shape, as polygons with their holes (corners not repeated). Empty for a point or
 * line and a distance of 0. Curves lie inside the true ones by at most 4 mm.
 */
export async function grown(shape: Shape, distanceM: number): Promise<Rings[]> {
  if (shape.type === 'point') return distanceM > 0 ? [[circle(shape.at, distanceM)]] : [];
  if (distanceM === 0) return shape.type === 'polygon' ? [shape.rings] : [];
  const buffer = await loadBuffer();
  return buffer(shape, distanceM, curveQuarters(distanceM));
}

/** The part of a polygon that is within a distance of its boundary (holes' edges count). */
export async function bandInside(rings: Rings, distanceM: number): Promise<Rings[]> {
  if (distanceM === 0) return [];
  const buffer = await loadBuffer();
  const whole = outlineOf({ type: 'polygon', rings });
  // Shrinking by more than a polygon is wide can leave a part that is not really so far inside.
  const inner = buffer({ type: 'polygon', rings }, -distanceM, curveQuarters(distanceM)).filter(
    ([[corner]]) => boundaryDistance(whole, ...corner) > distanceM - 2 * curveErrorM,
  );
  // What is left after shrinking lies wholly inside, so the band is the polygon with those parts as holes; a part's
  // own holes are band again.
  const holes = inner.map((part) => part[0]);
  const islands = inner.flatMap((part) => part.slice(1));
  const [outer, ...ownHoles] = rings;
  const band: Rings[] = [
    [outer, ...holes, ...ownHoles.filter((hole) => !withinAny(hole, islands))],
  ];
  for (const island of islands) {
    band.push([island, ...ownHoles.filter((hole) => withinAny(hole, [island]))]);
  }
  return band;
}

/** The ground that any of some polygons cover, as polygons that do not overlap. */
export async function united(polygons: readonly Rings[]): Promise<Rings[]> {
  if (polygons.length < 2) return [...polygons];
  const buffer = await loadBuffer();
  return buffer({ type: 'polygons', polygons }, 0, 1);
}

function curveQuarters(distanceM: number): number {
  const halfStep = Math.acos(Math.max(0, 1 - curveErrorM / distanceM));
  return Math.max(4, Math.ceil(Math.PI / 4 / halfStep));
}

function circle(centre: XY, radiusM: number): Ring {
  const corners = 4 * curveQuarters(radiusM);
  return Array.from({ length: corners }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / corners;
    return [centre[0] + radiusM * Math.cos(angle), centre[1] + radiusM * Math.sin(angle)];
  });
}

function withinAny(ring: Ring, others: readonly Ring[]): boolean {
  return others.some((other) => contains([other], ring[0]));
}

type Buffer = (shape: Shape | Polygons, distanceM: number, quarters: number) => Rings[];
interface Polygons {
  readonly type: 'polygons';
  readonly polygons: readonly Rings[];
}
let loading: Promise<Buffer> | undefined;

/** Buffering by JSTS, loaded on first use: it is large, and a plan of points never needs it. */
function loadBuffer(): Promise<Buffer> {
  loading ??= Promise.all([
    import('jsts/org/locationtech/jts/operation/buffer/BufferOp.js'),
    import('jsts/org/locationtech/jts/io/GeoJSONReader.js'),
    import('jsts/org/locationtech/jts/io/GeoJSONWriter.js'),
    import('jsts/org/locationtech/jts/geom/GeometryFactory.js'),
  ]).then(([op, reader, writer, factory]) => {
    const read = new reader.default(new factory.default());
    const write = new writer.default();
    return (shape, distanceM, quarters) => {
      const written: unknown = write.write(
        op.default.bufferOp(read.read(asGeoJson(shape)), distanceM, quarters),
      );
      return polygonsIn(written);
    };
  });
  return loading;
}

function asGeoJson(shape: Shape | Polygons): object {
  switch (shape.type) {
    case 'polygons':
      return { type: 'MultiPolygon', coordinates: shape.polygons.map(closedRings) };
    case 'point':
      return { type: 'Point', coordinates: shape.at };
    case 'line':
      return { type: 'LineString', coordinates: shape.points };
    case 'polygon':
      return { type: 'Polygon', coordinates: closedRings(shape.rings) };
  }
}

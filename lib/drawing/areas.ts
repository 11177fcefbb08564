import type Geometry from 'jsts/org/locationtech/jts/geom/Geometry.js';
import type { XY } from '../frame/frame';
import { closedRings, polygonsIn } from '../frame/geometry-rings';
import { areaM2, contains, type Rings } from '../frame/shapes';

/** How far a corner stands out at most, in multiples of the distance: beyond it is cut off. A choice. */
const sharpest = 5;
/** Edges of two outlines within this are the same edge: more than degrees as plans are written can part them. */
const sameEdgeM = 0.002;
/** Pieces smaller than this are none: the least area of an outline in a plan. */
const leastPieceM2 = 0.05;

/**
 * An area grown by a distance all round (drawn in if negative), its corners as sharp as they were; eaves from walls.
 * None where nothing is left, several where it falls apart.
 */
export async function grownSharp(rings: Rings, distanceM: number): Promise<Rings[]> {
  if (distanceM === 0) return [rings];
  const { buffer, Parameters, read, written } = await loadOperations();
  // No corner is left out for lying nearly on a line.
  const parameters = new Parameters(8, Parameters.CAP_FLAT, Parameters.JOIN_MITRE, sharpest);
  parameters.setSimplifyFactor(0);
  return written(buffer.bufferOp(read(rings), distanceM, parameters));
}

/**
 * The pieces into which a line cuts an area, the largest first; the area alone where the line does not cross it from
 * side to side.
 */
export async function splitBy(rings: Rings, line: readonly XY[]): Promise<Rings[]> {
  const { union, Polygonizer, readLines, interior, written } = await loadOperations();
  const faces = new Polygonizer();
  faces.add(union.union(readLines([...closedRings(rings), [...line]])));
  const pieces = (faces.getPolygons() as unknown as Faces)
    .toArray()
    .filter((face) => {
      const at = interior.getInteriorPoint(face) as { x: number; y: number };
      return contains(rings, [at.x, at.y]);
    })
    .flatMap((face) => written(face))
    .filter((piece) => areaM2(piece) >= leastPieceM2);
  if (pieces.length < 2) return [rings];
  return pieces.sort((a, b) => areaM2(b) - areaM2(a));
}

/** The areas as one; edges that nearly meet do. Several where they lie apart. */
export async function joined(areas: readonly Rings[]): Promise<Rings[]> {
  const { union, snapper, readAll, written } = await loadOperations();
  let whole = readAll(areas.slice(0, 1));
  for (const next of areas.slice(1)) {
    const both = snapper.snap(whole, readAll([next]), sameEdgeM) as readonly unknown[];
    whole = union.union(readAll(both.flatMap(written))) as Geometry;
  }
  return written(whole).map((piece) => piece.map(withoutStraightCorners));
}

/** A ring without corners at which it does not turn: where outlines met along an edge. */
function withoutStraightCorners(ring: readonly XY[]): XY[] {
  return ring.filter((at, i) => {
    const [before, after] = [ring.at(i - 1)!, ring[(i + 1) % ring.length]];
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
    const cross = dx * (at[1] - before[1]) - dy * (at[0] - before[0]);
    return Math.abs(cross) > sameEdgeM * Math.hypot(dx, dy);
  });
}

/** What is used of the list of faces, which has no types of its own. */
interface Faces {
  toArray(): Geometry[];
}

type Operations = Awaited<ReturnType<typeof load>>;
let loading: Promise<Operations> | undefined;

/** JSTS, loaded on first use: it is large, and most drawing needs none of it. */
function loadOperations(): Promise<Operations> {
  loading ??= load();
  return loading;
}

async function load() {
  const [buffer, parameters, union, polygonizer, snapper, interior, reader, writer, factory] =
    await Promise.all([
      import('jsts/org/locationtech/jts/operation/buffer/BufferOp.js'),
      import('jsts/org/locationtech/jts/operation/buffer/BufferParameters.js'),
      import('jsts/org/locationtech/jts/operation/union/UnaryUnionOp.js'),
      import('jsts/org/locationtech/jts/operation/polygonize/Polygonizer.js'),
      import('jsts/org/locationtech/jts/operation/overlay/snap/GeometrySnapper.js'),
      import('jsts/org/locationtech/jts/algorithm/InteriorPointArea.js'),
      import('jsts/org/locationtech/jts/io/GeoJSONReader.js'),
      import('jsts/org/locationtech/jts/io/GeoJSONWriter.js'),
      import('jsts/org/locationtech/jts/geom/GeometryFactory.js'),
    ]);
  const from = new reader.default(new factory.default());
  const to = new writer.default();
  return {
    buffer: buffer.default,
    Parameters: parameters.default,
    union: union.default,
    Polygonizer: polygonizer.default,
    snapper: snapper.default,
    interior: interior.default,
    read: (rings: Rings): Geometry =>
      from.read({ type: 'Polygon', coordinates: closedRings(rings) }) as Geometry,
    readAll: (areas: readonly Rings[]): Geometry =>
      from.read({ type: 'MultiPolygon', coordinates: areas.map(closedRings) }) as Geometry,
    readLines: (lines: readonly (readonly XY[])[]): Geometry =>
      from.read({ type: 'MultiLineString', coordinates: lines }) as Geometry,
    written: (geometry: unknown): Rings[] => polygonsIn(to.write(geometry)),
  };
}

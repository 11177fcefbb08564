import type Geometry from 'jsts/org/locationtech/jts/geom/Geometry.js';
import { localFrame, makeFrame, type LngLat } from '../frame/frame';
import { closedRings, polygonsIn } from '../frame/geometry-rings';
import { areaM2, contains, type Rings } from '../frame/shapes';
import { ringFault } from '../plan/ring-fault';

type Outline = readonly (readonly LngLat[])[];

/** An outline as it may stand in a plan, in one piece or several, and what was done to it. */
export interface MendedOutline {
  readonly pieces: readonly Outline[];
  /** A clause in the user's words; null where nothing had to be done. */
  readonly done: string | null;
}

/** Pieces smaller than this are what is left where lines nearly meet, not land: the least area of an outline in a plan. */
const leastPieceM2 = 0.05;
/** By which an outline that touches itself is drawn in, so that it no longer does. */
const drawnInM = 0.001;

/**
 * Puts an outline right: repeated corners go, rings are closed, holes without area go, and an outline that crosses
 * itself becomes the pieces that an odd number of its rings surround. One that is right comes back as it is.
 *
 * @param rings - outer ring, then holes; degrees, open or closed.
 * @returns `pieces` is empty where there is no area at all, or where it cannot be put right.
 */
export async function mendOutline(rings: Outline): Promise<MendedOutline> {
  const [outer, ...holes] = rings.map(closedRing);
  if (outer === undefined || outer.length < 4) {
    return { pieces: [], done: 'it has fewer than 3 corners' };
  }
  const kept = holes.filter((hole) => hole.length >= 4 && ringFault([hole])?.what !== 'no-area');
  const dropped = holes.length - kept.length;
  const note = dropped === 0 ? null : `${dropped} of its holes had no area`;
  const fault = ringFault([outer, ...kept]);
  if (fault === undefined) return { pieces: [[outer, ...kept]], done: note };
  if (fault.what === 'no-area') return { pieces: [], done: 'it encloses no area' };
  return taken([outer, ...kept], fault.what);
}

async function taken(rings: Outline, what: 'crosses' | 'hole-outside'): Promise<MendedOutline> {
  const frame = makeFrame(localFrame(rings[0][0]));
  const local = rings.map((ring) => ring.slice(0, -1).map((at) => frame.toLocal(at)));
  const topology = await loadTopology();
  const found = topology.oddFaces(local).flatMap((face) => {
    const there = onGlobe(face);
    if (ringFault(there) === undefined) return [there];
    return topology.drawnIn(face, drawnInM).map(onGlobe);
  });
  const pieces = found.filter((piece) => ringFault(piece) === undefined);
  const fault = what === 'crosses' ? 'it crossed or touched itself' : 'a hole lay outside it';
  if (pieces.length === 0) return { pieces, done: `${fault}, and it could not be mended` };
  const after = pieces.reduce(
    (sum, piece) => sum + areaM2(piece.map((ring) => ring.map((at) => frame.toLocal(at)))),
    0,
  );
  const count = pieces.length === 1 ? '' : ` in ${pieces.length} pieces`;
  return { pieces, done: `${fault}, and was mended: ${after.toFixed(1)} m²${count}` };

  function onGlobe(face: Rings): LngLat[][] {
    return face.map((ring) => closedRing(ring.map((at) => onLattice(frame.toLngLat(at)))));
  }
}

/** Degrees as plans are written: to a billionth, a tenth of a millimetre. */
export function onLattice([lng, lat]: LngLat): LngLat {
  return [Number(lng.toFixed(9)) + 0, Number(lat.toFixed(9)) + 0];
}

/** The ring with its repeated corners dropped and its first one at the end too. */
function closedRing(ring: readonly LngLat[]): LngLat[] {
  const corners = ring.filter((at, i) => i === 0 || !same(at, ring[i - 1]));
  while (corners.length > 1 && same(corners[0], corners[corners.length - 1])) corners.pop();
  return [...corners, corners[0]];
}

function same(a: LngLat, b: LngLat): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

interface Topology {
  /** The pieces of the plane that an odd number of the rings surround, neighbours joined. */
  readonly oddFaces: (rings: Rings) => Rings[];
  /** A polygon drawn in all round by a distance. */
  readonly drawnIn: (rings: Rings, distanceM: number) => Rings[];
}

/** What is used of the list of faces, which has no types of its own. */
interface Faces {
  toArray(): Geometry[];
}

let loading: Promise<Topology> | undefined;

/** JSTS, loaded on first use: it is large, and most outlines need no mending. */
function loadTopology(): Promise<Topology> {
  loading ??= Promise.all([
    import('jsts/org/locationtech/jts/operation/buffer/BufferOp.js'),
    import('jsts/org/locationtech/jts/operation/union/UnaryUnionOp.js'),
    import('jsts/org/locationtech/jts/operation/polygonize/Polygonizer.js'),
    import('jsts/org/locationtech/jts/algorithm/InteriorPointArea.js'),
    import('jsts/org/locationtech/jts/io/GeoJSONReader.js'),
    import('jsts/org/locationtech/jts/io/GeoJSONWriter.js'),
    import('jsts/org/locationtech/jts/geom/GeometryFactory.js'),
  ]).then(([buffer, union, polygonizer, interior, reader, writer, factory]) => {
    const read = new reader.default(new factory.default());
    const write = new writer.default();
    return {
      oddFaces(rings) {
        const noded: unknown = union.default.union(
          read.read({ type: 'MultiLineString', coordinates: closedRings(rings) }),
        );
        const faces = new polygonizer.default();
        faces.add(noded);
        const found = faces.getPolygons() as unknown as Faces;
        const odd = found
          .toArray()
          .filter((face) => {
            const at = interior.default.getInteriorPoint(face) as { x: number; y: number };
            return contains(rings, [at.x, at.y]);
          })
          .flatMap((face) => polygonsIn(write.write(face)));
        if (odd.length === 0) return [];
        const joined: unknown = union.default.union(
          read.read({ type: 'MultiPolygon', coordinates: odd.map(closedRings) }),
        );
        return polygonsIn(write.write(joined as Geometry)).filter(
          (face) => areaM2(face) >= leastPieceM2,
        );
      },
      drawnIn(rings, distanceM) {
        // One cut at each corner is enough for a millimetre.
        return polygonsIn(
          write.write(
            buffer.default.bufferOp(
              read.read({ type: 'Polygon', coordinates: closedRings(rings) }),
              -distanceM,
              1,
            ),
          ),
        );
      },
    };
  });
  return loading;
}

import type { Feature, FeatureCollection, Geometry, MultiPolygon, Position } from 'geojson';
import type { LngLat } from '../../frame/frame';
import type { DrainageResult, FlowLine, PipeLine } from './drainage-result';

/** Decimals kept of a degree: the eighth is about a millimetre. */
const degreeDecimals = 8;

/**
 * A drainage result as GeoJSON features (RFC 7946: longitude and latitude, outer rings anticlockwise), told apart by
 * `kind`: `low-spot`, `standing-water`, `contributing-area`, `flow-line`, `pipe-line`, `overflow-path`.
 *
 * What is about a low spot carries its number. Properties carry the field names of the result, so that what it says of a row (its probability, if asked for) stands at its place.
 *
 * @param lines - from `flowLines` and `pipeLines`.
 */
export function drainageFeatures(
  result: DrainageResult,
  lines: { readonly flow: readonly FlowLine[]; readonly pipes: readonly PipeLine[] },
): FeatureCollection<Geometry | null> {
  const numbers = new Map(result.low_spots.map(({ id, number }) => [id, number]));
  /** The number of a low spot, for rows about one. */
  const numbered = (id: string) => {
    const number = numbers.get(id);
    return number === undefined ? {} : { number };
  };
  return {
    type: 'FeatureCollection',
    features: [
      ...result.low_spots.map(({ outline, deepest, spill, ...row }) =>
        feature('low-spot', areas(outline), {
          ...row,
          deepest: rounded(deepest),
          spill: rounded(spill),
        }),
      ),
      ...result.standing.map(({ id, outline, ...row }) =>
        feature('standing-water', outline === undefined ? null : areas(outline), {
          low_spot: id,
          ...numbered(id),
          ...row,
        }),
      ),
      ...result.contributing.map(({ outline, ...row }) =>
        feature('contributing-area', areas(outline), { ...row, ...numbered(row.feature) }),
      ),
      ...lines.flow.map(({ points, ...row }) => feature('flow-line', line(points), row)),
      ...lines.pipes.map(({ points, ...row }) => feature('pipe-line', line(points), row)),
      ...result.basins
        .filter(({ overflow_path }) => overflow_path.length > 1)
        .map(({ id, overflow_path, overflow_reaches }) =>
          feature('overflow-path', line(overflow_path), { basin: id, overflow_reaches }),
        ),
    ],
  };
}

function feature(
  kind: string,
  geometry: Geometry | null,
  properties: object,
): Feature<Geometry | null> {
  return { type: 'Feature', geometry, properties: { kind, ...properties } };
}

/** Null for areas too small to have an outline, as RFC 7946 wants it. */
function areas({ coordinates }: MultiPolygon): MultiPolygon | null {
  if (coordinates.length === 0) return null;
  return {
    type: 'MultiPolygon',
    coordinates: coordinates.map((rings) => rings.map((ring) => ring.map(rounded))),
  };
}

function line(points: readonly LngLat[]): Geometry {
  return { type: 'LineString', coordinates: points.map(rounded) };
}

function rounded([lng, lat]: LngLat | Position): Position {
  const to = 10 ** degreeDecimals;
  return [Math.round(lng * to) / to, Math.round(lat * to) / to];
}

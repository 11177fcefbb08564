import type { Frame } from '../../frame/frame';
import { csv } from '../../tables/write-csv';
import type { ExportFeature, ExportLayer } from './export-layers';

/** Layers as one GeoJSON collection; each feature says its layer. */
export function geoJsonOf(layers: readonly ExportLayer[]): string {
  const features = layers.flatMap(({ name: layer, geometry, features: list }) =>
    list.map((feature) => ({
      type: 'Feature',
      id: feature.id,
      properties: { layer, name: feature.name, ...feature.properties },
      geometry: { type: geometry, coordinates: coordinatesOf(feature, geometry) },
    })),
  );
  return `${JSON.stringify({ type: 'FeatureCollection', features })}\n`;
}

function coordinatesOf({ rings }: ExportFeature, geometry: ExportLayer['geometry']): unknown {
  if (geometry === 'Polygon') return rings;
  return geometry === 'LineString' ? rings[0] : rings[0][0];
}

/** Layers as CSV, a row for each corner, in degrees and in metres of the lot's frame. */
export function cornersOf(layers: readonly ExportLayer[], frame: Frame): string {
  return csv([
    ['layer', 'feature', 'name', 'ring', 'corner', 'longitude', 'latitude', 'east_m', 'north_m'],
    ...layers.flatMap(({ name: layer, features }) =>
      features.flatMap(({ id, name, rings }) =>
        rings.flatMap((ring, r) =>
          ring.map((at, i) => {
            const [x, y] = frame.toLocal(at);
            return [
              layer,
              id,
              name,
              String(r + 1),
              String(i + 1),
              at[0].toFixed(9),
              at[1].toFixed(9),
              x.toFixed(4),
              y.toFixed(4),
            ];
          }),
        ),
      ),
    ),
  ]);
}

import type { LngLat } from '../../frame/frame';
import type { ExportFeature, ExportLayer, ExportValue } from './export-layers';

/** Decimals of degrees: a tenth of a millimetre. */
const decimals = 9;

function degrees(value: number): string {
  return value.toFixed(decimals);
}

/** Text as XML may hold it: marked signs escaped, control characters gone. */
function escaped(text: string): string {
  return text
    .replaceAll(/[\p{Cc}\p{Cs}\uFFFE\uFFFF]/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/**
 * Layers as GPX 1.1 for a receiver: points as waypoints, lines and the rings of areas as tracks; each is named after its layer
 * and itself.
 */
export function gpxOf(layers: readonly ExportLayer[]): string {
  const named = layers.flatMap(({ name, geometry, features }) =>
    features.map((feature) => ({ layer: name, geometry, feature })),
  );
  const head = ({ name }: ExportFeature, layer: string): string =>
    `<name>${escaped(name)}</name><type>${escaped(layer)}</type>`;
  // the format wants all waypoints before all tracks
  const points = named.filter(({ geometry }) => geometry === 'Point');
  const tracks = named.filter(({ geometry }) => geometry !== 'Point');
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="Lotfall" xmlns="http://www.topografix.com/GPX/1/1">',
    ...points.map(
      ({ feature, layer }) => `<wpt ${gpxAt(feature.rings[0][0])}>${head(feature, layer)}</wpt>`,
    ),
    ...tracks.map(
      ({ feature, layer }) =>
        `<trk>${head(feature, layer)}${feature.rings
          .map((ring) => `<trkseg>${ring.map((at) => `<trkpt ${gpxAt(at)}/>`).join('')}</trkseg>`)
          .join('')}</trk>`,
    ),
    '</gpx>',
    '',
  ].join('\n');
}

function gpxAt([lng, lat]: LngLat): string {
  return `lat="${degrees(lat)}" lon="${degrees(lng)}"`;
}

/** Layers as KML 2.2, a folder each; properties as extended data. */
export function kmlOf(layers: readonly ExportLayer[], title: string): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<kml xmlns="http://www.opengis.net/kml/2.2"><Document>',
    `<name>${escaped(title)}</name>`,
    ...layers.flatMap(({ name, geometry, features }) => [
      `<Folder><name>${escaped(name)}</name>`,
      ...features.map((feature) => placemark(feature, geometry)),
      '</Folder>',
    ]),
    '</Document></kml>',
    '',
  ].join('\n');
}

function placemark(feature: ExportFeature, geometry: ExportLayer['geometry']): string {
  const values: Record<string, ExportValue> = { id: feature.id, ...feature.properties };
  const data = Object.entries(values).map(
    ([key, value]) =>
      `<Data name="${escaped(key)}"><value>${escaped(String(value))}</value></Data>`,
  );
  return `<Placemark><name>${escaped(feature.name)}</name><ExtendedData>${data.join('')}</ExtendedData>${kmlGeometry(feature.rings, geometry)}</Placemark>`;
}

function kmlGeometry(rings: ExportFeature['rings'], geometry: ExportLayer['geometry']): string {
  const list = (ring: readonly LngLat[]): string =>
    `<coordinates>${ring.map(([lng, lat]) => `${degrees(lng)},${degrees(lat)}`).join(' ')}</coordinates>`;
  if (geometry === 'Point') return `<Point>${list(rings[0])}</Point>`;
  if (geometry === 'LineString') return `<LineString>${list(rings[0])}</LineString>`;
  const bounds = rings.map((ring, i) => {
    const name = i === 0 ? 'outerBoundaryIs' : 'innerBoundaryIs';
    return `<${name}><LinearRing>${list(ring)}</LinearRing></${name}>`;
  });
  return `<Polygon>${bounds.join('')}</Polygon>`;
}

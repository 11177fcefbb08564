import {
  type Cell,
  type FilePosition,
  type Found,
  type FoundPart,
  type FoundShape,
  type GivenFile,
  worldLayer,
} from './found-layer';
import { childText, readXml, type XmlElement } from './read-xml';

/** Reads GPX 1.0 and 1.1: waypoints, routes and tracks, a layer each. @throws {InputError} `gather-xml`. */
export function readGpx(file: GivenFile): Found {
  const root = readXml(file);
  const of = (name: string): XmlElement[] => root.children.filter((child) => child.name === name);
  const layers: [name: string, shapes: FoundShape[]][] = [
    ['waypoints', of('wpt').map((point) => shapeOf(point, pointsOf([point], 'Point')))],
    ['routes', of('rte').map((route) => shapeOf(route, lineOf(route, 'rtept')))],
    [
      'tracks',
      of('trk').map((track) =>
        shapeOf(
          track,
          track.children
            .filter(({ name }) => name === 'trkseg')
            .flatMap((segment) => lineOf(segment, 'trkpt')),
        ),
      ),
    ],
  ];
  return {
    format: 'GPX',
    notes: [
      `${file.name}: its places are as good as the receiver that took them, often some metres`,
    ],
    layers: layers
      .filter(([, shapes]) => shapes.length > 0)
      .map(([name, shapes]) => worldLayer(file.name, name, shapes)),
  };
}

function shapeOf(element: XmlElement, parts: readonly FoundPart[]): FoundShape {
  const properties: Record<string, Cell> = {};
  for (const name of ['name', 'desc', 'cmt', 'sym', 'type', 'time']) {
    const text = childText(element, name);
    if (text !== '') properties[name] = text;
  }
  return { parts, properties };
}

function lineOf(element: XmlElement, name: string): FoundPart[] {
  return pointsOf(
    element.children.filter((child) => child.name === name),
    'LineString',
  );
}

function pointsOf(elements: readonly XmlElement[], type: 'Point' | 'LineString'): FoundPart[] {
  const positions = elements.flatMap((element): FilePosition[] => {
    const { lat, lon } = element.attributes;
    const at = [Number(lon ?? NaN), Number(lat ?? NaN)];
    if (!at.every(Number.isFinite)) return [];
    const height = childText(element, 'ele');
    return [height === '' ? at : [...at, Number(height)]];
  });
  if (positions.length === 0) return [];
  return [
    type === 'Point' ? { type, coordinates: positions[0] } : { type, coordinates: positions },
  ];
}

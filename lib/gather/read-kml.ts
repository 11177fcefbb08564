import {
  plainName,
  plainText,
  type Cell,
  type Found,
  type FoundPart,
  type FoundShape,
  type GivenFile,
  worldLayer,
} from './found-layer';
import { openZip } from './open-zip';
import { stem } from './read-geojson';
import { childOf, childText, readXml, type XmlElement } from './read-xml';
import { refused } from './refused';

/** Reads the document in a KMZ archive. @throws {InputError} `gather-kmz` where there is none. */
export function readKmz(file: GivenFile): Found {
  const documents = [...openZip(file, ['kml'])];
  const main = documents.find(([name]) => name === 'doc.kml') ?? documents[0];
  if (main === undefined) {
    throw refused(file.name, 'kmz', 'there is no KML document in it', 'export it again');
  }
  const found = readKml({ name: file.name, bytes: main[1] });
  const rest = documents.length - 1;
  if (rest === 0) return { ...found, format: 'KMZ' };
  const note = `${file.name}: ${rest} more documents in it are not read`;
  return { ...found, format: 'KMZ', notes: [...found.notes, note] };
}

/**
 * Reads KML 2.3 placemarks, a layer for each folder that has some of its own. Network links are never followed.
 *
 * @throws {InputError} `gather-xml`.
 */
export function readKml(file: GivenFile): Found {
  const layers = new Map<string, FoundShape[]>();
  const unread = new Map<string, number>();
  const visit = (element: XmlElement, layer: string): void => {
    for (const child of element.children) {
      if (child.name === 'Placemark') {
        const shapes = layers.get(layer) ?? [];
        shapes.push(placemark(child, unread));
        layers.set(layer, shapes);
      } else if (child.name === 'Folder' || child.name === 'Document') {
        visit(child, plainName(childText(child, 'name'), layer));
      } else if (notRead[child.name] !== undefined) {
        unread.set(child.name, (unread.get(child.name) ?? 0) + 1);
      }
    }
  };
  visit(readXml(file), stem(file.name));
  return {
    format: 'KML',
    notes: [...unread].map(([name, count]) => `${file.name}: ${count} ${notRead[name]}`),
    layers: [...layers].map(([name, shapes]) => worldLayer(file.name, name, shapes)),
  };
}

const notRead: Readonly<Partial<Record<string, string>>> = {
  NetworkLink: 'links to documents elsewhere are not followed: open them and save what they show',
  GroundOverlay: 'images laid on the ground are not read',
  ScreenOverlay: 'images laid on the screen are not read',
  PhotoOverlay: 'photographs are not read',
  Model: 'solid models are not read',
};

function placemark(element: XmlElement, unread: Map<string, number>): FoundShape {
  const properties: Record<string, Cell> = {};
  for (const name of ['name', 'description']) {
    const text = childText(element, name);
    if (text !== '') properties[name] = text;
  }
  const data = childOf(element, 'ExtendedData');
  const visitData = (part: XmlElement): void => {
    for (const child of part.children) {
      const { name } = child.attributes;
      if (child.name === 'SchemaData') visitData(child);
      else if (name === undefined) continue;
      else if (child.name === 'Data') properties[plainText(name)] = childText(child, 'value');
      else if (child.name === 'SimpleData') properties[plainText(name)] = child.text.trim();
    }
  };
  if (data !== undefined) visitData(data);
  const parts: FoundPart[] = [];
  collect(element, parts, unread);
  return { parts, properties };
}

function collect(element: XmlElement, into: FoundPart[], unread: Map<string, number>): void {
  for (const child of element.children) {
    const hasHeight = childText(child, 'altitudeMode') === 'absolute';
    switch (child.name) {
      case 'Point': {
        const [at] = positionsIn(child, hasHeight);
        if (at !== undefined) into.push({ type: 'Point', coordinates: at });
        break;
      }
      case 'LineString':
      case 'LinearRing': {
        const line = positionsIn(child, hasHeight);
        if (line.length > 0) into.push({ type: 'LineString', coordinates: line });
        break;
      }
      case 'Polygon': {
        const rings = ['outerBoundaryIs', 'innerBoundaryIs'].flatMap((bound) =>
          child.children
            .filter(({ name }) => name === bound)
            .flatMap((inner) => inner.children.filter(({ name }) => name === 'LinearRing'))
            .map((ring) => positionsIn(ring, hasHeight)),
        );
        if (rings.length > 0) into.push({ type: 'Polygon', coordinates: rings });
        break;
      }
      case 'Track': {
        const line = child.children
          .filter(({ name }) => name === 'coord')
          .map(({ text }) => numbersIn(text.trim().split(/\s+/)))
          .filter((at) => at !== null);
        if (line.length > 0) into.push({ type: 'LineString', coordinates: line });
        break;
      }
      case 'MultiGeometry':
      case 'MultiTrack':
        collect(child, into, unread);
        break;
      case 'Model':
        unread.set('Model', (unread.get('Model') ?? 0) + 1);
    }
  }
}

/** Positions in an element's `coordinates`; heights only where they are above the sea, not above the ground. */
function positionsIn(element: XmlElement, hasHeight: boolean): number[][] {
  return childText(element, 'coordinates')
    .split(/\s+/)
    .flatMap((word) => {
      const at = numbersIn(word.split(','));
      return at === null ? [] : [hasHeight ? at : at.slice(0, 2)];
    });
}

function numbersIn(words: readonly string[]): number[] | null {
  const [lng, lat, height] = words.map((word) => (word === '' ? NaN : Number(word)));
  if (!Number.isFinite(lng) || !Number.isFinite(lat)) return null;
  return Number.isFinite(height) ? [lng, lat, height] : [lng, lat];
}

import type { Frame, FrameSpec, XY } from '../../frame/frame';
import { footM } from '../../units/units';
import type { ExportLayer } from './export-layers';

export interface DxfOptions {
  readonly unit: 'm' | 'ft';
  /** Name of the system that the frame is in, for the note in the drawing. */
  readonly system: string;
}

/** Numbers of the header's unit: metres and feet. */
const unitNumber = { m: 6, ft: 2 } as const;
/** Colours by number, a few that show on white and on black; layers take turns. */
const colours = [1, 3, 5, 6, 30, 94, 140, 210];
const textSizeM = 0.3;
const noteLayer = 'note';

/**
 * Layers as a DXF drawing (release 12, which everything reads) in the lot's frame: points, lines, closed lines, and the name of
 * each thing beside it. The format knows no coordinate system: a note in the drawing says which frame it is.
 *
 * Source: the format's own reference of release 12, from memory; GDAL reads it in the tests.
 */
export function dxfOf(
  layers: readonly ExportLayer[],
  frame: Frame,
  { unit, system }: DxfOptions,
): string {
  const scale = unit === 'ft' ? 1 / footM : 1;
  const placed = layers.map(({ features, ...layer }) => ({
    ...layer,
    features: features.map((feature) => ({
      name: feature.name,
      rings: feature.rings.map((ring) =>
        ring.map((at): XY => {
          const [x, y] = frame.toLocal(at);
          return [x * scale, y * scale];
        }),
      ),
    })),
  }));
  const lines: string[] = [];
  const put = (code: number, value: string | number): void => {
    lines.push(String(code), typeof value === 'number' ? String(value) : plain(value));
  };
  writeHead(put, [...layers.map(({ name }) => name), noteLayer], unit);
  put(0, 'SECTION');
  put(2, 'ENTITIES');
  const textSize = textSizeM * scale;
  for (const { name, geometry, features } of placed) {
    for (const feature of features) {
      for (const ring of feature.rings) {
        if (geometry === 'Point') writePoint(put, name, ring[0]);
        else writeLine(put, name, ring, geometry === 'Polygon');
      }
      writeText(put, `${name}_text`, feature.rings[0][0], feature.name, textSize);
    }
  }
  const corner = lowest(
    placed.flatMap(({ features }) => features.flatMap(({ rings }) => rings.flat())),
  );
  noteOf(frame.spec, unit, system).forEach((text, i) => {
    writeText(put, noteLayer, [corner[0], corner[1] - (2 + i * 1.6) * textSize], text, textSize);
  });
  put(0, 'ENDSEC');
  put(0, 'EOF');
  return `${lines.join('\r\n')}\r\n`;
}

type Put = (code: number, value: string | number) => void;

function writeHead(put: Put, layers: readonly string[], unit: DxfOptions['unit']): void {
  put(0, 'SECTION');
  put(2, 'HEADER');
  put(9, '$ACADVER');
  put(1, 'AC1009');
  put(9, '$INSUNITS');
  put(70, unitNumber[unit]);
  put(0, 'ENDSEC');
  put(0, 'SECTION');
  put(2, 'TABLES');
  put(0, 'TABLE');
  put(2, 'LAYER');
  const all = layers.flatMap((name) => (name === noteLayer ? [name] : [name, `${name}_text`]));
  put(70, all.length);
  all.forEach((name, i) => {
    put(0, 'LAYER');
    put(2, name);
    put(70, 0);
    put(62, name === noteLayer ? 7 : colours[Math.floor(i / 2) % colours.length]);
    put(6, 'CONTINUOUS');
  });
  put(0, 'ENDTAB');
  put(0, 'ENDSEC');
}

function writePoint(put: Put, layer: string, at: XY): void {
  put(0, 'POINT');
  put(8, layer);
  writeAt(put, at);
}

function writeLine(put: Put, layer: string, points: readonly XY[], isClosed: boolean): void {
  put(0, 'POLYLINE');
  put(8, layer);
  put(66, 1);
  writeAt(put, [0, 0]);
  put(70, isClosed ? 1 : 0);
  for (const at of isClosed ? points.slice(0, -1) : points) {
    put(0, 'VERTEX');
    put(8, layer);
    writeAt(put, at);
  }
  put(0, 'SEQEND');
  put(8, layer);
}

function writeText(put: Put, layer: string, at: XY, text: string, size: number): void {
  put(0, 'TEXT');
  put(8, layer);
  writeAt(put, at);
  put(40, size.toFixed(3));
  put(1, text);
}

function writeAt(put: Put, [x, y]: XY): void {
  put(10, x.toFixed(6));
  put(20, y.toFixed(6));
  put(30, '0.0');
}

function lowest(points: readonly XY[]): XY {
  return points
    .reduce<XY>(([x, y], at) => [Math.min(x, at[0]), Math.min(y, at[1])], [Infinity, Infinity])
    .map((value) => (Number.isFinite(value) ? value : 0)) as unknown as XY;
}

function noteOf(spec: FrameSpec, unit: DxfOptions['unit'], system: string): string[] {
  return [
    `Lotfall. 1 drawing unit is 1 ${unit === 'ft' ? 'foot' : 'metre'} on the ground. Estimates for planning, no survey.`,
    `System: ${system}. Origin: east ${spec.originEast.toFixed(3)}, north ${spec.originNorth.toFixed(3)}; ground metres for its unit: ${spec.metresPerUnit}.`,
    `Projection: ${spec.projection}`,
  ];
}

/** Text on one line in signs that release 12 has; others are written by their numbers. */
function plain(text: string): string {
  return text.replaceAll(/[\p{Cc}]+/gu, ' ').replaceAll(/[^\x20-\x7e]/g, (sign) => {
    const code = sign.charCodeAt(0).toString(16).toUpperCase();
    return `\\U+${code.padStart(4, '0')}`;
  });
}

import { footM, inchM, surveyFootM, yardM } from '../units/units';
import { decodeText } from './decode-text';
import { lineOf, placeOf, type Place } from './dxf-curves';
import {
  dxfDrawing,
  numberOf,
  textOf,
  type DxfDrawing,
  type DxfEntity,
  type Group,
} from './dxf-entities';
import {
  columnsOf,
  plainName,
  type Found,
  type FoundPart,
  type FoundShape,
  type GivenFile,
} from './found-layer';
import { refused } from './refused';

/**
 * Metres for one drawing unit by the number that the header gives (`$INSUNITS`). Source: the drawing program's own list
 * of that variable (seen); of what is not in use for land, and of 0, nothing is known.
 */
const unitByNumber: Readonly<Partial<Record<number, number>>> = {
  1: inchM,
  2: footM,
  3: 5280 * footM,
  4: 0.001,
  5: 0.01,
  6: 1,
  7: 1000,
  10: yardM,
  14: 0.1,
  15: 10,
  16: 100,
  21: surveyFootM,
  22: surveyFootM / 12,
  23: 3 * surveyFootM,
  24: 5280 * surveyFootM,
};

/** Blocks within blocks deeper than this are a circle. */
const deepest = 16;
/** As many shapes as are made of one drawing: blocks of blocks multiply. Own choice. */
const mostShapes = 500_000;

/**
 * Reads a DXF drawing in text form: points and lines of every kind by their layers, with blocks set in their places. What
 * is drawn on sheets (paper space) is left out, and what is no line or point is counted. System and, where the header is
 * silent, unit have to be asked.
 *
 * @throws {InputError} `gather-dxf` where it is cut or damaged, or unfolds to too much.
 */
export function readDxf({ name: file, bytes }: GivenFile): Found {
  const drawing = dxfDrawing(decodedDrawing(bytes));
  if (typeof drawing === 'number') {
    throw refused(
      file,
      'dxf',
      `line ${drawing} is not the number that a DXF drawing has there`,
      'save it again as text (ASCII) DXF',
    );
  }
  if (!drawing.isWhole) {
    throw refused(file, 'dxf', 'it breaks off before its end', 'get it again from where it came');
  }
  const { layers, unread } = unfolded(drawing, file);
  const unitM = unitByNumber[Number(drawing.header.get('$INSUNITS') ?? 0)] ?? null;
  return {
    format: 'DXF',
    notes: [...unread].map(([what, count]) => `${file}: ${count} ${what} are not read`),
    layers: [...layers].map(([name, shapes]) => ({
      file,
      name: plainName(name, 'layer'),
      columns: columnsOf(shapes),
      shapes,
      system: {
        is: 'asked',
        why: 'a drawing does not name its coordinate system',
        candidates: [],
      },
      unitM,
      heightUnitM: unitM,
    })),
  };
}

/** From this version on drawings are UTF-8; older ones are in the code page that their header names. */
const firstUtf8 = 'AC1021';

function decodedDrawing(bytes: Uint8Array): string {
  const head = String.fromCharCode(...bytes.subarray(0, 4000));
  const version = /\$ACADVER\s+1\s+(AC\d+)/.exec(head)?.[1] ?? '';
  const page = /\$DWGCODEPAGE\s+3\s+(?:ANSI_|dos)?(\d+)/i.exec(head)?.[1];
  const asian: Readonly<Partial<Record<string, string>>> = {
    '932': 'shift_jis',
    '936': 'gbk',
    '949': 'euc-kr',
    '950': 'big5',
  };
  const named = page === undefined ? undefined : (asian[page] ?? `windows-${page}`);
  const { text } = decodeText(bytes, version >= firstUtf8 ? undefined : named);
  return text.replace(/\\U\+([0-9a-f]{4})/gi, (_, digits: string) =>
    String.fromCharCode(Number.parseInt(digits, 16)),
  );
}

/** Where a block's coordinates lie in the drawing: x' = a x + c y + e, y' = b x + d y + f, heights shifted. */
interface Setting {
  readonly matrix: readonly [a: number, b: number, c: number, d: number, e: number, f: number];
  readonly rise: number;
}

const upright: Setting = { matrix: [1, 0, 0, 1, 0, 0], rise: 0 };

function unfolded(drawing: DxfDrawing, file: string) {
  const layers = new Map<string, FoundShape[]>();
  const unread = new Map<string, number>();
  let count = 0;

  for (const entity of drawing.entities) {
    // Group 67 marks what is drawn on a sheet and not in the model.
    if (numberOf(entity.groups, 67, 0) === 1) continue;
    const own = textOf(entity.groups, 8) || '0';
    const byLayer = new Map<string, FoundPart[]>();
    for (const { layer, part } of partsOf(entity, own, upright, 0)) {
      const parts = byLayer.get(layer) ?? [];
      parts.push(part);
      byLayer.set(layer, parts);
    }
    for (const [layer, parts] of byLayer) {
      const shapes = layers.get(layer) ?? [];
      shapes.push({ parts, ...symbolOf(entity, layer === own) });
      layers.set(layer, shapes);
    }
  }
  return { layers, unread };

  function partsOf(entity: DxfEntity, layer: string, setting: Setting, depth: number): Drawn[] {
    if (++count > mostShapes) {
      throw refused(
        file,
        'dxf',
        `its blocks unfold to more than ${mostShapes} shapes`,
        'save only the layers and the ground that are needed',
      );
    }
    const { type, groups } = entity;
    const mirror = drawnFromBelow(type, groups);
    if (mirror === null) return leave(`${type} that lie aslant`);
    if (type === 'INSERT') return blockOf(entity, layer, mirror, setting, depth);
    const place = placer(setting, mirror);
    if (type === 'POINT') {
      return [{ layer, part: { type: 'Point', coordinates: place(placeOf(groups, 0)) } }];
    }
    const line = lineOf(entity);
    if (line === null || line.length < 2) return leave(type);
    return [{ layer, part: { type: 'LineString', coordinates: line.map(place) } }];
  }

  function blockOf(
    { groups }: DxfEntity,
    layer: string,
    mirror: 1 | -1,
    holder: Setting,
    depth: number,
  ): Drawn[] {
    const name = textOf(groups, 2);
    const block = drawing.blocks.get(name.toLowerCase());
    if (block === undefined || depth >= deepest) {
      return leave(`INSERT of '${plainName(name, 'no block')}'`);
    }
    const drawn: Drawn[] = [];
    for (let row = 0; row < Math.max(1, numberOf(groups, 71, 1)); row++) {
      for (let column = 0; column < Math.max(1, numberOf(groups, 70, 1)); column++) {
        const setting = settingOf(groups, block.groups, column, row, mirror, holder);
        for (const each of block.entities) {
          // What is drawn on layer 0 of a block belongs to the layer on which the block is set.
          const own = textOf(each.groups, 8) || '0';
          drawn.push(...partsOf(each, own === '0' ? layer : own, setting, depth + 1));
        }
      }
    }
    return drawn;
  }

  function leave(what: string): Drawn[] {
    unread.set(what, (unread.get(what) ?? 0) + 1);
    return [];
  }
}

/** A part with the layer that it comes to lie on. */
interface Drawn {
  readonly layer: string;
  readonly part: FoundPart;
}

/** Of a block that is set once: its name, and on its own layer the place where it is set. */
function symbolOf(
  { type, groups }: DxfEntity,
  isOwnLayer: boolean,
): Pick<FoundShape, 'properties' | 'at'> {
  if (type !== 'INSERT') return { properties: {} };
  const properties = { block: textOf(groups, 2) };
  if (!isOwnLayer || numberOf(groups, 70, 1) > 1 || numberOf(groups, 71, 1) > 1) {
    return { properties };
  }
  const mirror = drawnFromBelow(type, groups) ?? 1;
  return { properties, at: placer(upright, mirror)(placeOf(groups, 0)) };
}
/** Types whose coordinates are those of their own plane, seen along its normal. */
const inOwnPlane = new Set(['LWPOLYLINE', 'POLYLINE', 'CIRCLE', 'ARC', 'INSERT']);

/** -1 for what is drawn on the back of the plane, so that east is west; null for what lies aslant. */
function drawnFromBelow(type: string, groups: readonly Group[]): 1 | -1 | null {
  const isInSpace = type === 'POLYLINE' && (numberOf(groups, 70, 0) & 8) !== 0;
  const [x, y] = [numberOf(groups, 210, 0), numberOf(groups, 220, 0)];
  if (isInSpace || type === 'LINE' || type === 'POINT') return 1;
  if (Math.hypot(x, y) > 1e-9) return type === 'SPLINE' ? 1 : null;
  return inOwnPlane.has(type) && numberOf(groups, 230, 1) < 0 ? -1 : 1;
}

function placer({ matrix, rise }: Setting, mirror: 1 | -1): (at: Place) => number[] {
  const [a, b, c, d, e, f] = matrix;
  return ([x, y, z]) => [a * mirror * x + c * y + e, b * mirror * x + d * y + f, mirror * z + rise];
}

/** Where a block's coordinates lie: less its base point, scaled, turned, moved, seen from its side, set as its holder is. */
function settingOf(
  insert: readonly Group[],
  block: readonly Group[],
  column: number,
  row: number,
  mirror: 1 | -1,
  holder: Setting,
): Setting {
  const [baseX, baseY, baseZ] = placeOf(block, 0);
  const [atX, atY, atZ] = placeOf(insert, 0);
  const [scaleX, scaleY] = [numberOf(insert, 41, 1), numberOf(insert, 42, 1)];
  const turn = (numberOf(insert, 50, 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  // Columns and rows are set off before the turn, unscaled.
  const [offX, offY] = [column * numberOf(insert, 44, 0), row * numberOf(insert, 45, 0)];
  const [x0, y0] = [offX - scaleX * baseX, offY - scaleY * baseY];
  const own = [
    mirror * cos * scaleX,
    sin * scaleX,
    mirror * -sin * scaleY,
    cos * scaleY,
    mirror * (atX + cos * x0 - sin * y0),
    atY + sin * x0 + cos * y0,
  ];
  const [a, b, c, d, e, f] = holder.matrix;
  const by = (x: number, y: number): [number, number] => [a * x + c * y, b * x + d * y];
  const [p, q] = [by(own[0], own[1]), by(own[2], own[3])];
  const [mx, my] = by(own[4], own[5]);
  return {
    matrix: [...p, ...q, mx + e, my + f],
    rise: holder.rise + mirror * (atZ - baseZ),
  };
}

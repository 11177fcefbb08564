import { cover, foundation, service, type Kind } from '../plan/schema';
import { plainText, type FoundLayer, type FoundShape } from './found-layer';
import { lengthIn, textIn, type ColumnUses, type Role } from './guess-columns';
import type { KindUse } from './guess-kind';
import { wordsOf } from './words-of';

/** What of a row's columns a feature gets. */
export interface PropertiesRead {
  readonly properties: Readonly<Record<string, unknown>>;
  /** What the kind cannot do without and the row does not give, as a reason for leaving it out; null when nothing. */
  readonly lacks: string | null;
  /** Whether a length was there whose unit nothing says. */
  readonly unitAsked: boolean;
}

/** Lengths that kinds have, by what their columns are called. */
const lengths: Readonly<Partial<Record<Kind, Partial<Record<Role, string>>>>> = {
  tree: { diameter: 'trunk_diameter_m', canopy: 'canopy_radius_m' },
  wall: { height: 'height_m', width: 'width_m' },
  kerb: { height: 'height_m', width: 'width_m' },
  berm: { height: 'height_m', width: 'width_m' },
  swale: { depth: 'depth_m', width: 'width_m' },
  'drain-pipe': { diameter: 'diameter_m', depth: 'depth_m' },
  watercourse: { depth: 'depth_m', width: 'width_m' },
  utility: { depth: 'depth_m' },
  'spot-height': { elevation: 'elevation_m' },
};

/** What columns give a layer of a use, in the order in which it is asked. */
export function rolesOf({ kind, service: line, cover: ground }: KindUse): readonly Role[] {
  return [
    'name',
    ...(kind === 'building' ? (['foundation'] as const) : []),
    ...(kind === 'utility' && line === undefined ? (['service'] as const) : []),
    ...(kind === 'surface' && ground === undefined ? (['cover'] as const) : []),
    ...(Object.keys(lengths[kind] ?? {}) as Role[]),
    'date',
  ];
}

const longestName = 120;

/** @param unitM - metres for one unit of lengths that say none; null where nobody has said. */
export function featureProperties(
  shape: FoundShape,
  layer: FoundLayer,
  use: KindUse,
  columns: ColumnUses,
  unitM: number | null,
): PropertiesRead {
  const { kind } = use;
  const properties: Record<string, unknown> = { kind };
  let unitAsked = false;
  const name = plainText(textIn(shape, columns.name)).slice(0, longestName);
  if (name !== '') properties.name = name;
  for (const [role, property] of Object.entries(lengths[kind] ?? {}) as [Role, string][]) {
    const read = lengthIn(shape, columns[role], unitM);
    if (read.is === 'unit asked') unitAsked = true;
    if (read.is !== 'length' || (read.metres < 0 && role !== 'elevation')) continue;
    const isAcross = role === 'canopy' && !/radius/.test(wordsOf(columns.canopy?.column ?? ''));
    properties[property] = rounded(isAcross ? read.metres / 2 : read.metres);
  }
  let lacks: string | null = null;
  if (kind === 'lot') properties.own = false;
  if (kind === 'building') {
    const found = foundationOf(textIn(shape, columns.foundation));
    if (found !== undefined) properties.foundation = found;
  }
  if (kind === 'utility') {
    const found = use.service ?? serviceOf(textIn(shape, columns.service));
    if (found === undefined) {
      lacks = `without a service: say which, for example utility:${service.options[1]}`;
    } else properties.service = found;
  }
  if (kind === 'surface') {
    const found = use.cover ?? coverOf(textIn(shape, columns.cover));
    if (found === undefined) {
      lacks = `without a cover: say which, for example surface:${cover.options[0]}`;
    } else properties.cover = found;
  }
  if (kind === 'spot-height' && properties.elevation_m === undefined) {
    const height = heightOf(shape, layer, unitM);
    if (height === 'unit asked') {
      unitAsked = true;
      lacks = 'without the unit of their heights';
    } else if (height === null)
      lacks = unitAsked ? 'without the unit of their heights' : 'without a height';
    else properties.elevation_m = rounded(height);
  }
  const date = plainText(textIn(shape, columns.date)).slice(0, longestName);
  properties.gathered_from = `${layer.file}, ${layer.name}${date === '' ? '' : `, ${date}`}`;
  return { properties, lacks, unitAsked };
}

/** The third coordinate of a point, metres. */
function heightOf(
  { parts }: FoundShape,
  layer: FoundLayer,
  unitM: number | null,
): number | null | 'unit asked' {
  const [part] = parts;
  if (part?.type !== 'Point' || !Number.isFinite(part.coordinates[2])) return null;
  const unit = layer.heightUnitM ?? unitM;
  return unit === null ? 'unit asked' : part.coordinates[2] * unit;
}

function rounded(metres: number): number {
  return Number(metres.toFixed(4));
}

function foundationOf(text: string): string | undefined {
  const words = wordsOf(text);
  if (/crawl/.test(words)) return 'crawl-space';
  if (/basement|cellar/.test(words))
    return /^(no|none|without)\b/.test(words) ? undefined : 'basement';
  if (/slab/.test(words)) return 'slab';
  return foundation.options.find((known) => known === words);
}

function serviceOf(text: string): string | undefined {
  const words = wordsOf(text);
  if (words === '') return undefined;
  if (/reclaimed|recycled/.test(words)) return 'reclaimed-water';
  if (/sewer|sanitary/.test(words)) return 'sewer';
  if (/comm|tele|phone|fib|cable/.test(words)) return 'communications';
  if (/elec|power/.test(words)) return 'electric';
  return service.options.find((known) => words.includes(known));
}

function coverOf(text: string): string | undefined {
  const words = wordsOf(text);
  if (words === '') return undefined;
  if (/pav|concrete|asphalt|impervious/.test(words)) return 'paving';
  if (/grass|turf/.test(words)) return 'lawn';
  if (/forest/.test(words)) return 'woods';
  return cover.options.find((known) => words.includes(known));
}

import { footM, inchM, surveyFootM } from '../units/units';
import type { Column, FoundShape } from './found-layer';
import { wordsOf } from './words-of';

/** What of a feature a column may hold. */
export type Role =
  | 'name'
  | 'foundation'
  | 'service'
  | 'cover'
  | 'diameter'
  | 'canopy'
  | 'height'
  | 'elevation'
  | 'depth'
  | 'width'
  | 'date';

/** A column that is used, and metres for one unit of its numbers; null where neither its name nor its values say. */
export interface ColumnUse {
  readonly column: string;
  readonly unitM: number | null;
}

export type ColumnUses = Readonly<Partial<Record<Role, ColumnUse>>>;

/** Names of columns by what they hold, the surest first. Our choice of words that layers use. */
const byRole: Readonly<Record<Role, readonly RegExp[]>> = {
  name: [
    /^name$/,
    /^(label|title)$/,
    /^(common name|species)$/,
    /^(parcel (id|no|number)|pin|apn)$/,
    /\bname$/,
  ],
  foundation: [/foundation|fndtn|^fnd/, /basement/],
  service: [/^(service|utility( type)?|commodity)$/],
  cover: [/^(cover|land ?cover|surface( type)?|material)$/],
  diameter: [/^dbh\b/, /\bdiam(eter)?\b|^dia\b/, /^trunk/],
  canopy: [/canopy|crown|spread/],
  height: [/^(height|hgt|ht)\b/, /\bheight$/],
  elevation: [/^elev(ation)?\b/, /^(z|level|rl)$/, /\belev(ation)?\b/],
  depth: [/^depth\b|\bdepth$/, /^cover depth/],
  width: [/^width\b|\bwidth$/],
  date: [/^date\b|\bdate$/, /^(surveyed|updated)\b/],
};

const units: Readonly<Partial<Record<string, number>>> = {
  m: 1,
  metre: 1,
  metres: 1,
  meter: 1,
  meters: 1,
  cm: 0.01,
  mm: 0.001,
  ft: footM,
  feet: footM,
  foot: footM,
  usft: surveyFootM,
  in: inchM,
  inch: inchM,
  inches: inchM,
};

/** Guesses which columns hold what, by their names. Each column has one role. */
export function guessColumns(columns: readonly Column[]): ColumnUses {
  const found: Partial<Record<Role, ColumnUse>> = {};
  const taken = new Set<string>();
  for (const role of Object.keys(byRole) as Role[]) {
    for (const pattern of byRole[role]) {
      const column = columns.find(({ name }) => !taken.has(name) && pattern.test(wordsOf(name)));
      if (column === undefined) continue;
      taken.add(column.name);
      found[role] = columnUse(column.name);
      break;
    }
  }
  return found;
}

/** A column as it is used where it is chosen: in the unit that its name ends in. */
export function columnUse(name: string): ColumnUse {
  return { column: name, unitM: unitIn(name) };
}

/** Metres for the unit that a column's name ends in. */
function unitIn(name: string): number | null {
  return units[wordsOf(name).split(' ').at(-1) ?? ''] ?? null;
}

/** A length in a row: by the unit in the cell, in the column's name, or the one given for the layer. */
export type LengthRead =
  | { readonly is: 'length'; readonly metres: number }
  | { readonly is: 'none' }
  | { readonly is: 'unit asked' };

/** @param unitM - metres for one unit where neither cell nor column says; null where nobody has said. */
export function lengthIn(
  { properties }: FoundShape,
  use: ColumnUse | undefined,
  unitM: number | null,
): LengthRead {
  const cell = use === undefined ? null : properties[use.column];
  if (use === undefined || cell === null || cell === undefined) return { is: 'none' };
  const match = /^\s*(-?\d+(?:[.,]\d+)?)\s*([a-z]+|"|')?\.?\s*$/i.exec(String(cell));
  if (match === null) return { is: 'none' };
  const value = Number(match[1].replace(',', '.'));
  const said = match[2] === '"' ? inchM : match[2] === "'" ? footM : units[match[2]?.toLowerCase()];
  const unit = said ?? use.unitM ?? unitM;
  return unit === null ? { is: 'unit asked' } : { is: 'length', metres: value * unit };
}

/** The words of a row's column; empty where there are none. */
export function textIn({ properties }: FoundShape, use: ColumnUse | undefined): string {
  const cell = use === undefined ? null : properties[use.column];
  return cell === null || cell === undefined ? '' : String(cell).trim();
}

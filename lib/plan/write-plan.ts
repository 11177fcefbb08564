import type { Plan, PlanFeature } from './schema';

/** Decimals of a degree that are written: a tenth of a millimetre. */
const decimals = 9;

/**
 * The plan as GeoJSON text: settings first, then the features in the plan's order, each with type, id,
 * properties (kind first) and geometry, so that a change to the plan is a small change to the file. Indented by
 * two spaces, positions on one line each; unknown members stay, after the known ones.
 *
 * Coordinates are rounded to a tenth of a millimetre; reading what was written and writing it again gives the
 * same text. Cost: linear.
 */
export function writePlan(plan: Plan): string {
  const { type, lotfall, features, ...others } = plan;
  return `${indented({ type, lotfall, ...others, features: features.map(inOrder) }, '')}\n`;
}

function inOrder(feature: PlanFeature): object {
  const { type, id, properties, geometry, ...others } = feature;
  const { kind, name, ...rest } = properties;
  const { type: shape, coordinates, ...extra } = geometry;
  return {
    type,
    id,
    ...others,
    properties: { kind, ...(name === undefined ? {} : { name }), ...rest },
    geometry: { type: shape, ...extra, coordinates: rounded(coordinates) },
  };
}

function rounded(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(rounded);
  // Adding 0 turns -0, which JSON would read back as 0, into 0 at once.
  return Number((value as number).toFixed(decimals)) + 0;
}

/** JSON as `JSON.stringify` indents it, but with lists of numbers on one line. */
function indented(value: unknown, indent: string): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const deeper = `${indent}  `;
  if (Array.isArray(value)) {
    if (value.length === 0) return '[]';
    if (value.every((entry) => typeof entry === 'number')) {
      return `[${value.map((entry) => JSON.stringify(entry)).join(', ')}]`;
    }
    const entries = value.map((entry) => deeper + indented(entry, deeper));
    return `[\n${entries.join(',\n')}\n${indent}]`;
  }
  const members = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .map(([name, member]) => `${deeper}${JSON.stringify(name)}: ${indented(member, deeper)}`);
  return members.length === 0 ? '{}' : `{\n${members.join(',\n')}\n${indent}}`;
}

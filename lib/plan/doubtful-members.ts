import { nearMatches } from './near-matches';
import { quote } from './property-fault';
import { kinds, settings, type PlanFeature } from './schema';

/** Wider than any trunk that a rule for yards was written for; a greater figure is in another unit. Own choice. */
const widestTrunkM = 5;

/** What schemas hold others in: objects by name, lists, and what may be left out. */
interface Nested {
  readonly entries?: Readonly<Record<string, Nested>>;
  readonly item?: Nested;
  readonly wrapped?: Nested;
}

type Member = Readonly<Record<string, unknown>>;

/** What of a feature's properties is taken as it is but ought to be looked at, one clause each. */
export function doubtfulProperties(feature: PlanFeature): string[] {
  const { properties } = feature;
  const doubts = misspelt(kinds[properties.kind].entries.properties, properties);
  if (properties.kind === 'tree' && (properties.trunk_diameter_m ?? 0) > widestTrunkM) {
    doubts.push(
      `is a trunk of ${String(properties.trunk_diameter_m)} m right? trunk_diameter_m is in metres; it is used as it stands`,
    );
  }
  return doubts;
}

/** What of a plan's settings is not known but nearly has a known name, one clause each. */
export function doubtfulSettings(value: unknown): string[] {
  return misspelt(settings, value);
}

/** The members whose names are not known but nearly those of known ones that the object lacks. They are kept, and not used. */
function misspelt(schema: unknown, value: unknown, path = ''): string[] {
  const { entries, item } = unwrapped(schema as Nested);
  if (Array.isArray(value)) {
    return value.flatMap((each, i) => (item ? misspelt(item, each, `${path}${i}.`) : []));
  }
  if (entries === undefined || typeof value !== 'object' || value === null) return [];
  const member = value as Member;
  const lacking = Object.keys(entries).filter((name) => !Object.hasOwn(member, name));
  return Object.entries(member).flatMap(([name, inner]) => {
    if (Object.hasOwn(entries, name)) return misspelt(entries[name], inner, `${path}${name}.`);
    const near = nearMatches(name, lacking).at(0);
    return near === undefined
      ? []
      : [
          `${path}${name} (${quote(inner)}) is not known and not used; did you mean ${path}${near}?`,
        ];
  });
}

function unwrapped(schema: Nested): Nested {
  return schema.wrapped === undefined ? schema : unwrapped(schema.wrapped);
}

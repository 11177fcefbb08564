import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import type { Condition, Distance, Selector } from './rule';

/** A feature that a rule measures from. */
export interface Concerned {
  readonly feature: LocalFeature;
  /** `false` when the plan lacks the property that decides whether the rule applies. */
  readonly certain: boolean;
  /** The property that is lacking. */
  readonly lacking: string | undefined;
}

/** The features that some selectors pick, each once, in the order of the selectors and of the plan. */
export function concerned(
  plan: Pick<LocalPlan, 'of'>,
  selectors: readonly Selector[],
): Concerned[] {
  const found = new Map<string, Concerned>();
  for (const selector of selectors) {
    for (const feature of plan.of[selector.kind]) {
      const match = matches(feature, selector);
      if (match !== null && found.get(feature.id)?.certain !== true) found.set(feature.id, match);
    }
  }
  return [...found.values()];
}

/** Which way a basin lies from a feature over the ground. */
export type Side = 'uphill' | 'level' | 'downhill' | 'unknown';

/** What a rule asks for at one feature. */
export interface Requirement {
  /** Metres between the basin and the feature's shape. */
  readonly m: number;
  /** What the plan lacks to know the whole requirement, in words; the true figure may be larger than `m`. */
  readonly lacking: string | undefined;
}

/**
 * The distance that a rule asks for at a feature, were its place known exactly. A root circle that the plan gives
 * (somebody has looked at the tree) counts before one worked out from the trunk.
 */
export function requirement(distance: Distance, feature: LocalFeature, side: Side): Requirement {
  switch (distance.by) {
    case 'constant':
      return { m: distance.m, lacking: undefined };
    case 'not-over':
      return { m: 0, lacking: undefined };
    case 'canopy':
      return canopyOf(feature);
    case 'trunk':
      return rootCircleOf(feature, distance);
    case 'side':
      if (side === 'downhill') return { m: distance.downhillM, lacking: undefined };
      if (side === 'unknown') {
        return {
          m: Math.min(distance.uphillM, distance.downhillM),
          lacking: 'the elevation, to tell uphill from downhill',
        };
      }
      return { m: distance.uphillM, lacking: undefined };
  }
}

/** The largest distance that a rule can ask for at a feature, for finding what is near enough to matter. */
export function largestRequirementM(distance: Distance, feature: LocalFeature): number {
  if (distance.by === 'side') return Math.max(distance.uphillM, distance.downhillM);
  return requirement(distance, feature, 'uphill').m;
}

/**
 * How far a feature's true extent reaches beyond its shape in the plan, metres: half of a line's width, a tank's radius,
 * a footing that is wider than the wall. 0 where the plan gives none. A circle so given is exact, never a polygon.
 */
export function halfWidthM(feature: LocalFeature): number {
  switch (feature.kind) {
    case 'septic-tank':
      return numberOf(feature, 'radius_m') ?? 0;
    case 'building':
      return numberOf(feature, 'footing_m') ?? 0;
    default:
      if (feature.shape.type !== 'line') return 0;
      return (numberOf(feature, 'width_m') ?? numberOf(feature, 'diameter_m') ?? 0) / 2;
  }
}

/** How far a feature's true place may be off, metres. */
export function accuracyM(feature: LocalFeature): number {
  return numberOf(feature, 'accuracy_m') ?? 0;
}

/** What a feature is called in a report: its name, or its kind and id. */
export function nameOf(feature: LocalFeature): string {
  return feature.feature.properties.name ?? `${feature.kind.replaceAll('-', ' ')} ${feature.id}`;
}

/** A property of a feature whatever its kind, `undefined` where the plan does not give it. */
function propertyOf(feature: LocalFeature, name: string): unknown {
  const properties: Readonly<Record<string, unknown>> = feature.feature.properties;
  return properties[name];
}

function numberOf(feature: LocalFeature, name: string): number | undefined {
  const value = propertyOf(feature, name);
  return typeof value === 'number' && value >= 0 ? value : undefined;
}

function canopyOf(feature: LocalFeature): Requirement {
  const canopyM = numberOf(feature, 'canopy_radius_m');
  return { m: canopyM ?? 0, lacking: canopyM === undefined ? 'the canopy’s radius' : undefined };
}

function rootCircleOf(
  feature: LocalFeature,
  { perDiameter, orCanopy, atLeastM }: Extract<Distance, { by: 'trunk' }>,
): Requirement {
  const rootM = numberOf(feature, 'root_radius_m');
  const trunkM = numberOf(feature, 'trunk_diameter_m');
  const canopy = orCanopy ? canopyOf(feature) : { m: 0, lacking: undefined };
  const lacking = [
    rootM === undefined && trunkM === undefined ? 'the trunk’s diameter' : undefined,
    canopy.lacking,
  ].filter((word) => word !== undefined);
  return {
    m: Math.max(rootM ?? (trunkM ?? 0) * perDiameter, canopy.m, atLeastM),
    lacking: lacking.length === 0 ? undefined : lacking.join(' and '),
  };
}

function matches(feature: LocalFeature, selector: Selector): Concerned | null {
  let lacking: string | undefined;
  for (const [name, condition] of Object.entries(selector.where ?? {})) {
    const value = propertyOf(feature, name);
    if (value === undefined) {
      if (selector.absent === 'skip') return null;
      if (selector.absent === 'check') lacking = name;
    } else if (!meets(value, condition)) {
      return null;
    }
  }
  return { feature, certain: lacking === undefined, lacking };
}

function meets(value: unknown, condition: Condition): boolean {
  if (Array.isArray(condition)) return condition.some((each) => each === value);
  if (typeof value !== 'number') return false;
  return value >= (condition.at_least ?? -Infinity) && value <= (condition.at_most ?? Infinity);
}

import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { possibleValues } from './possible-values';
import type { Condition, Distance, Selector } from './rule';
import { featureName } from '../../plan/feature-name';

/** A feature that a rule measures from. */
export interface Concerned {
  readonly feature: LocalFeature;
  /** `false` when it hangs on a property that the plan lacks whether the rule applies. */
  readonly certain: boolean;
  /** What is lacking, in words. */
  readonly lacking: string | undefined;
}

/**
 * The features that some selectors pick, each once, in the order of the selectors' kinds and of the plan. A property that is
 * absent only matters where one of its possible values would keep every selector from picking the feature.
 */
export function concerned(
  plan: Pick<LocalPlan, 'of'>,
  selectors: readonly Selector[],
): Concerned[] {
  const found: Concerned[] = [];
  for (const kind of new Set(selectors.map((each) => each.kind))) {
    const ofKind = selectors.filter((each) => each.kind === kind);
    for (const feature of plan.of[kind]) {
      const match = picked(feature, ofKind);
      if (match !== null) found.push(match);
    }
  }
  return found;
}

/** Which way a basin lies from a feature over the ground. */
export type Side = 'uphill' | 'level' | 'downhill' | 'unknown';

/** What a rule asks for at one feature. */
export interface Requirement {
  /** Metres between the basin and the feature's shape, by what is known. */
  readonly m: number;
  /** The most that it can come to, whatever the plan lacks. */
  readonly mostM: number;
  /** What the plan lacks to know the whole requirement, in words; `undefined` where `m` is all. */
  readonly lacking: string | undefined;
}

/**
 * Trees of which nobody says otherwise are no larger than these: 1.5 m of trunk (5 ft) and 30 m from side to side (100 ft),
 * beyond which the owner of a yard knows of it. Common practice, no source.
 */
const largestTree = { trunkM: 1.5, canopyM: 15 } as const;

/**
 * The distance that a rule asks for at a feature, were its place known exactly. A root circle that the plan gives
 * (somebody has looked at the tree) counts before one worked out from the trunk.
 */
export function requirement(distance: Distance, feature: LocalFeature, side: Side): Requirement {
  switch (distance.by) {
    case 'constant':
      return whole(distance.m);
    case 'not-over':
      return whole(0);
    case 'canopy':
      return canopyOf(feature);
    case 'trunk':
      return rootCircleOf(feature, distance);
    case 'side':
      if (side === 'unknown') {
        return {
          m: Math.min(distance.uphillM, distance.downhillM),
          mostM: Math.max(distance.uphillM, distance.downhillM),
          lacking: 'the elevation, to tell uphill from downhill',
        };
      }
      return whole(side === 'downhill' ? distance.downhillM : distance.uphillM);
  }
}

function whole(m: number): Requirement {
  return { m, mostM: m, lacking: undefined };
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

/** What a feature is called in a report. */
export function nameOf({ feature }: LocalFeature): string {
  return featureName(feature);
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
  return canopyM === undefined
    ? { m: 0, mostM: largestTree.canopyM, lacking: 'the canopy’s radius' }
    : whole(canopyM);
}

function rootCircleOf(
  feature: LocalFeature,
  { perDiameter, orCanopy, atLeastM }: Extract<Distance, { by: 'trunk' }>,
): Requirement {
  const rootM = numberOf(feature, 'root_radius_m');
  const trunkM = numberOf(feature, 'trunk_diameter_m');
  const roots =
    rootM !== undefined
      ? whole(rootM)
      : trunkM !== undefined
        ? whole(trunkM * perDiameter)
        : { m: 0, mostM: largestTree.trunkM * perDiameter, lacking: 'the trunk’s diameter' };
  const parts = [roots, orCanopy ? canopyOf(feature) : whole(0), whole(atLeastM)];
  const m = Math.max(...parts.map((part) => part.m));
  // A part that cannot come to more than another is sure to be is not lacking.
  const lacking = parts.flatMap((part) => (part.mostM > m ? (part.lacking ?? []) : []));
  return {
    m,
    mostM: Math.max(...parts.map((part) => part.mostM)),
    lacking: lacking.length === 0 ? undefined : lacking.join(' and '),
  };
}

/** Properties by their names, for those that the plan does not give. */
type Assumed = Readonly<Record<string, unknown>>;

function picked(feature: LocalFeature, selectors: readonly Selector[]): Concerned | null {
  const lacking = new Set(
    selectors.flatMap(({ where = {}, absent }) =>
      absent === 'check'
        ? Object.keys(where).filter((name) => propertyOf(feature, name) === undefined)
        : [],
    ),
  );
  let all: readonly Assumed[] = [{}];
  for (const name of lacking) {
    const conditions = selectors.flatMap(({ where = {} }) => (name in where ? [where[name]] : []));
    const values = possibleValues(feature.kind, name, conditions);
    all = all.flatMap((before) => values.map((value) => ({ ...before, [name]: value })));
  }
  const picking = all.filter((assumed) => selectors.some((each) => picks(each, feature, assumed)));
  if (picking.length === 0) return null;
  const certain = picking.length === all.length;
  const words = [...lacking].map((name) => name.replaceAll('_', ' '));
  return { feature, certain, lacking: certain ? undefined : words.join(' and ') };
}

function picks({ where = {}, absent }: Selector, feature: LocalFeature, assumed: Assumed): boolean {
  return Object.entries(where).every(([name, condition]) => {
    const value = propertyOf(feature, name);
    if (value !== undefined) return meets(value, condition);
    return absent === 'check' ? meets(assumed[name], condition) : absent === 'applies';
  });
}

function meets(value: unknown, condition: Condition): boolean {
  if (Array.isArray(condition)) return condition.some((each) => each === value);
  if (typeof value !== 'number') return false;
  return value >= (condition.at_least ?? -Infinity) && value <= (condition.at_most ?? Infinity);
}

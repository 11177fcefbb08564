import type { FeatureOf, Kind } from '../../../../lib/plan/schema';

/** How the user calls the kinds, in the order in which they are drawn. */
export const drawnKinds: readonly {
  readonly kind: Kind;
  readonly name: string;
  readonly how: string;
}[] = [
  { kind: 'lot', name: 'lot line', how: 'outline; the first is the lot being planned' },
  { kind: 'building', name: 'building', how: 'outline of the walls' },
  { kind: 'roof', name: 'roof', how: 'outline of the eaves' },
  { kind: 'downspout', name: 'downspout', how: 'a point; drag its outlet afterwards' },
  { kind: 'surface', name: 'surface', how: 'outline; lawn needs none' },
  { kind: 'utility', name: 'utility line', how: 'along the line as marked or on record' },
  { kind: 'septic-field', name: 'septic field', how: 'outline' },
  { kind: 'septic-tank', name: 'septic tank', how: 'a point' },
  { kind: 'well', name: 'well', how: 'a point' },
  { kind: 'tree', name: 'tree', how: 'a point at the trunk' },
  { kind: 'wall', name: 'wall', how: 'along its middle' },
  { kind: 'kerb', name: 'kerb', how: 'along its face' },
  { kind: 'easement', name: 'easement', how: 'outline' },
  { kind: 'wetland', name: 'wetland', how: 'outline' },
  { kind: 'basin', name: 'basin', how: 'outline of the rim' },
];

/** One property that can be edited beside the map. */
export type Field =
  | { readonly key: string; readonly label: string; readonly type: 'text' }
  | {
      readonly key: string;
      readonly label: string;
      readonly type: 'length';
      readonly fallbackM?: number;
    }
  | {
      readonly key: string;
      readonly label: string;
      readonly type: 'number';
      readonly min: number;
      readonly max: number;
      readonly step: number;
      readonly fallback?: number;
    }
  | { readonly key: string; readonly label: string; readonly type: 'yes-no' }
  | {
      readonly key: string;
      readonly label: string;
      readonly type: 'choice';
      readonly choices: readonly string[];
      readonly optional: boolean;
    }
  | { readonly key: string; readonly label: string; readonly type: 'feature'; readonly kind: Kind };

type Foundation = NonNullable<FeatureOf<'building'>['properties']['foundation']>;
const foundations: readonly Foundation[] = ['basement', 'crawl-space', 'slab', 'none'];

/** The properties of each kind, beside its name. */
export const fieldsOf: Partial<Record<Kind, readonly Field[]>> = {
  lot: [{ key: 'own', label: 'is the lot being planned', type: 'yes-no' }],
  building: [
    {
      key: 'foundation',
      label: 'foundation',
      type: 'choice',
      choices: foundations,
      optional: true,
    },
  ],
  roof: [{ key: 'building', label: 'of', type: 'feature', kind: 'building' }],
  downspout: [
    { key: 'roof', label: 'of roof', type: 'feature', kind: 'roof' },
    {
      key: 'share',
      label: 'share of the roof, 0 to 1',
      type: 'number',
      min: 0,
      max: 1,
      step: 0.05,
    },
  ],
  surface: [
    {
      key: 'cover',
      label: 'cover',
      type: 'choice',
      choices: ['lawn', 'bed', 'woods', 'meadow', 'gravel', 'paving', 'deck', 'bare'],
      optional: false,
    },
    {
      key: 'condition',
      label: 'condition',
      type: 'choice',
      choices: ['poor', 'fair', 'good'],
      optional: true,
    },
    {
      key: 'soil_group',
      label: 'soil group',
      type: 'choice',
      choices: ['A', 'B', 'C', 'D'],
      optional: true,
    },
  ],
  utility: [
    {
      key: 'service',
      label: 'service',
      type: 'choice',
      choices: ['electric', 'gas', 'water', 'sewer', 'communications', 'reclaimed-water'],
      optional: false,
    },
    { key: 'side', label: 'side', type: 'choice', choices: ['public', 'private'], optional: true },
    { key: 'depth_m', label: 'depth', type: 'length' },
    { key: 'accuracy_m', label: 'accuracy of its place', type: 'length' },
  ],
  tree: [
    { key: 'trunk_diameter_m', label: 'trunk diameter', type: 'length' },
    { key: 'canopy_radius_m', label: 'canopy radius', type: 'length' },
  ],
  wall: [{ key: 'height_m', label: 'height', type: 'length', fallbackM: 1 }],
  kerb: [{ key: 'height_m', label: 'height', type: 'length', fallbackM: 0.15 }],
  basin: [
    { key: 'ponding_depth_m', label: 'ponding depth', type: 'length', fallbackM: 0.15 },
    { key: 'dig_depth_m', label: 'depth of digging', type: 'length' },
    {
      key: 'side_slope',
      label: 'side slope, run for 1 of rise',
      type: 'number',
      min: 0,
      max: 20,
      step: 0.5,
      fallback: 3,
    },
  ],
};

/** The name a kind goes by beside the map. */
export function kindName(kind: Kind): string {
  return drawnKinds.find((entry) => entry.kind === kind)?.name ?? kind.replaceAll('-', ' ');
}

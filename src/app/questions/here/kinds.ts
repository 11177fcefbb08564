import { defaultHeightM } from '../../../../lib/ground/barriers';
import { freeboardM, overflowWidthM } from '../../../../lib/ground/basin-form';
import { bermDefaults } from '../../../../lib/ground/berm';
import { usualDiameterM, usualRoughness } from '../../../../lib/ground/pipe-capacity';
import { soakawayDefaults } from '../../../../lib/ground/soakaway';
import { spotInfluenceM } from '../../../../lib/ground/spot-heights';
import { usualAccuracyM } from '../../../../lib/levels/readings';
import { swaleDefaults } from '../../../../lib/ground/swale';
import type { FeatureOf, Kind } from '../../../../lib/plan/schema';

/** One property that can be edited beside the map. */
export type Field =
  | { readonly key: string; readonly label: string; readonly type: 'text' }
  /** A day that has been. */
  | { readonly key: string; readonly label: string; readonly type: 'day' }
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
  | {
      readonly key: string;
      readonly label: string;
      readonly type: 'yes-no';
      /** Asked of features only that have this value of that property. */
      readonly of?: { readonly key: string; readonly value: string };
      /** What is shown while the plan does not say. */
      readonly fallback?: boolean;
    }
  /** A height above the vertical datum of the elevation, with its unit. */
  | { readonly key: string; readonly label: string; readonly type: 'elevation' }
  | {
      readonly key: string;
      readonly label: string;
      readonly type: 'choice';
      readonly choices: readonly string[];
      readonly optional: boolean;
    }
  | {
      readonly key: string;
      readonly label: string;
      readonly type: 'feature';
      readonly kind: Kind;
      readonly optional: boolean;
    };

const sideSlope = {
  key: 'side_slope',
  label: 'side slope, run for 1 of rise',
  type: 'number',
  min: 0,
  max: 20,
  step: 0.5,
  fallback: 3,
} as const satisfies Field;
const inElevation = {
  key: 'in_elevation',
  label: 'the elevation shows it already',
  type: 'yes-no',
} as const satisfies Field;
const blocked = { key: 'blocked', label: 'blocked', type: 'yes-no' } as const satisfies Field;
const ofPipe = {
  key: 'pipe',
  label: 'into drain pipe',
  type: 'feature',
  kind: 'drain-pipe',
  optional: true,
} as const satisfies Field;

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
    { key: 'footing_m', label: 'footing beyond the walls', type: 'length', fallbackM: 0 },
  ],
  roof: [{ key: 'building', label: 'of', type: 'feature', kind: 'building', optional: true }],
  downspout: [
    { key: 'roof', label: 'of roof', type: 'feature', kind: 'roof', optional: false },
    {
      key: 'share',
      label: 'share of the roof, 0 to 1',
      type: 'number',
      min: 0,
      max: 1,
      step: 0.05,
    },
    ofPipe,
    { key: 'barrel_m3', label: 'barrel, m3', type: 'number', min: 0, max: 100, step: 0.1 },
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
    {
      key: 'unconnected',
      label: 'paving: its water spreads over lawn',
      type: 'yes-no',
      of: { key: 'cover', value: 'paving' },
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
    { key: 'root_radius_m', label: 'root circle, if looked at', type: 'length' },
  ],
  'septic-tank': [{ key: 'radius_m', label: 'radius', type: 'length', fallbackM: 0 }],
  wall: [
    { key: 'height_m', label: 'height', type: 'length', fallbackM: defaultHeightM.wall },
    inElevation,
  ],
  kerb: [
    { key: 'height_m', label: 'height', type: 'length', fallbackM: defaultHeightM.kerb },
    inElevation,
  ],
  swale: [
    {
      key: 'width_m',
      label: 'width between its shoulders',
      type: 'length',
      fallbackM: swaleDefaults.widthM,
    },
    {
      key: 'depth_m',
      label: 'depth below the ground beside it',
      type: 'length',
      fallbackM: swaleDefaults.depthM,
    },
    sideSlope,
    { key: 'enforce_fall', label: 'dug to fall all the way', type: 'yes-no', fallback: true },
    inElevation,
  ],
  berm: [
    { key: 'height_m', label: 'height', type: 'length', fallbackM: bermDefaults.heightM },
    { key: 'width_m', label: 'width of its crest', type: 'length', fallbackM: bermDefaults.widthM },
    sideSlope,
    inElevation,
  ],
  regrade: [
    { key: 'elevation_m', label: 'elevation', type: 'elevation' },
    { key: 'slope', label: 'fall for 1 of run', type: 'number', min: 0, max: 2, step: 0.005 },
    {
      key: 'bearing_deg',
      label: 'falls to, degrees from north',
      type: 'number',
      min: 0,
      max: 360,
      step: 5,
    },
    sideSlope,
    inElevation,
  ],
  'drain-pipe': [
    { key: 'diameter_m', label: 'diameter', type: 'length', fallbackM: usualDiameterM },
    {
      key: 'slope',
      label: 'fall for 1 of run (else that of the ground)',
      type: 'number',
      min: 0,
      max: 2,
      step: 0.005,
    },
    {
      key: 'roughness',
      label: "Manning's n",
      type: 'number',
      min: 0.005,
      max: 0.1,
      step: 0.001,
      fallback: usualRoughness,
    },
    blocked,
  ],
  'yard-drain': [
    ofPipe,
    {
      key: 'capacity_m3_per_h',
      label: 'takes at most, m3 an hour',
      type: 'number',
      min: 0,
      max: 10_000,
      step: 0.5,
    },
    blocked,
  ],
  'trench-drain': [
    ofPipe,
    {
      key: 'capacity_m3_per_h',
      label: 'takes at most, m3 an hour',
      type: 'number',
      min: 0,
      max: 10_000,
      step: 0.5,
    },
    blocked,
  ],
  soakaway: [
    {
      key: 'depth_m',
      label: 'depth of its stone',
      type: 'length',
      fallbackM: soakawayDefaults.depthM,
    },
    {
      key: 'void_ratio',
      label: 'share of it that holds water',
      type: 'number',
      min: 0.05,
      max: 1,
      step: 0.05,
      fallback: soakawayDefaults.voidRatio,
    },
  ],
  'french-drain': [
    { key: 'width_m', label: 'width', type: 'length' },
    { key: 'depth_m', label: 'depth', type: 'length' },
  ],
  'window-well': [
    { key: 'rim_m', label: 'rim above the ground', type: 'length', fallbackM: 0 },
    { key: 'sill_below_m', label: 'sill below the rim', type: 'length' },
  ],
  fence: [
    { key: 'height_m', label: 'height', type: 'length' },
    { key: 'gap_m', label: 'gap below it', type: 'length' },
  ],
  'sump-outlet': [
    {
      key: 'rate_m3_per_h',
      label: 'puts out, m3 an hour',
      type: 'number',
      min: 0,
      max: 10_000,
      step: 0.1,
    },
    {
      key: 'hours',
      label: 'hours (else as long as the storm)',
      type: 'number',
      min: 0,
      max: 1000,
      step: 1,
    },
  ],
  'spot-height': [
    { key: 'elevation_m', label: 'elevation', type: 'elevation' },
    { key: 'drop_m', label: 'or drop below the mark', type: 'elevation' },
    { key: 'accuracy_m', label: 'read to within', type: 'length', fallbackM: usualAccuracyM },
    { key: 'influence_m', label: 'corrects within', type: 'length', fallbackM: spotInfluenceM },
  ],
  'relevelled-ground': [{ key: 'on', label: 'levels read on', type: 'day' }],
  'level-line': [{ key: 'elevation_m', label: 'elevation', type: 'elevation' }],
  'break-line': [{ key: 'step', label: 'the ground jumps at it', type: 'yes-no', fallback: false }],
  observation: [
    { key: 'depth_m', label: 'how deep it stood, 0 for none', type: 'length' },
    { key: 'on', label: 'on', type: 'day' },
    { key: 'rain_mm', label: 'rain before it, mm', type: 'number', min: 0, max: 2000, step: 1 },
    {
      key: 'gone_after_h',
      label: 'gone, hours after the rain',
      type: 'number',
      min: 0,
      max: 1000,
      step: 1,
    },
    {
      key: 'still_after_h',
      label: 'still there, hours after the rain',
      type: 'number',
      min: 0,
      max: 1000,
      step: 1,
    },
  ],
  'puddle-edge': [
    { key: 'depth_m', label: 'at the deepest', type: 'length', fallbackM: 0 },
    { key: 'on', label: 'on', type: 'day' },
  ],
  basin: [
    { key: 'ponding_depth_m', label: 'ponding depth', type: 'length', fallbackM: 0.15 },
    sideSlope,
    { key: 'freeboard_m', label: 'rim over the notch', type: 'length', fallbackM: freeboardM },
    {
      key: 'overflow_width_m',
      label: 'width of the notch',
      type: 'length',
      fallbackM: overflowWidthM,
    },
  ],
};

/**
 * The plan document: one GeoJSON FeatureCollection (RFC 7946) whose features carry `properties.kind`, and
 * one foreign member, `lotfall`, for what is not a place. The types below are read off the schema, so
 * what is checked and what is promised cannot part. Unknown properties and members are kept.
 */
import * as v from 'valibot';
import type { LngLat } from '../frame/frame';
import { basinProperties } from './basin-properties';
import { earthSettings } from './earth-settings';
import { clearLocate } from './clear-locate';
import { jobSettings } from './job-settings';
import { soilGroup, soilSettings, soilTest } from './soil-settings';
import { stormSettings, thawSettings } from './storm-settings';

const position = v.custom<LngLat>(
  isPosition,
  'expected a longitude from -180 to 180 and a latitude from -90 to 90, in that order',
);
const line = v.looseObject({
  type: v.literal('LineString'),
  coordinates: v.pipe(v.array(position), v.minLength(2)),
});
const point = v.looseObject({ type: v.literal('Point'), coordinates: position });
const ring = v.pipe(v.array(position), v.minLength(4));
const polygon = v.looseObject({
  type: v.literal('Polygon'),
  coordinates: v.pipe(v.array(ring), v.minLength(1)),
});

const metres = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));
const isoDate = v.custom<string>(isDay, 'expected a date such as 2026-11-16');
/** A year, or as much of a day as is known. */
const yearOrDay = v.custom<string>(
  isYearOrDay,
  'expected a year such as 2019, or a day such as 2019-04-30',
);
const outlet = v.union(
  [position, v.literal('storm-sewer')],
  "expected a [longitude, latitude] position or 'storm-sewer'",
);
export const cover = v.picklist([
  'lawn',
  'bed',
  'woods',
  'meadow',
  'gravel',
  'paving',
  'deck',
  'bare',
]);
export const condition = v.picklist(['poor', 'fair', 'good']);
export const foundation = v.picklist(['basement', 'crawl-space', 'slab', 'none']);
export const service = v.picklist([
  'electric',
  'gas',
  'water',
  'sewer',
  'communications',
  'reclaimed-water',
]);

/** A locate on record: who marked the line, when, and until when the marks may be relied on. */
export const locate = v.pipe(
  v.looseObject({
    by: v.picklist(['public', 'private']),
    on: isoDate,
    until: isoDate,
  }),
  v.check(
    ({ on, until }) => on <= until,
    'expected `until` not to be before `on`, the day of the marking',
  ),
);

const length = {
  height_m: v.optional(metres),
  width_m: v.optional(metres),
  depth_m: v.optional(metres),
  diameter_m: v.optional(metres),
};
/** Run for 1 of rise. */
const sideSlope = v.pipe(v.number(), v.minValue(0), v.maxValue(20));
/** Fall for 1 of run. */
const fall = v.pipe(v.number(), v.minValue(0), v.maxValue(2));
const crc32Expected = 'expected eight hexadecimal digits such as 0f6c22a9';
const dropM = v.pipe(v.number(), v.minValue(-100), v.maxValue(100));
const elevationM = v.pipe(v.number(), v.minValue(-500), v.maxValue(9000));
/** Whether the elevation shows it already, so that the ground is left as it is there. */
const inElevation = { in_elevation: v.optional(v.boolean()) };
const volumeM3 = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));
const hours = v.pipe(v.number(), v.minValue(0), v.maxValue(1000));

function kind<K extends string, G extends v.GenericSchema, P extends v.ObjectEntries>(
  name: K,
  geometry: G,
  properties: P,
) {
  return v.looseObject({
    type: v.literal('Feature'),
    id: v.string(),
    geometry,
    properties: v.looseObject({
      kind: v.literal(name),
      name: v.optional(v.string()),
      /** Whether it stands today and stays, is to come, or is to go; what says nothing stands today and stays. */
      state: v.optional(v.picklist(['existing', 'proposed', 'gone'])),
      /** When it was built: heights that were measured before do not know of it. */
      built: v.optional(yearOrDay),
      ...properties,
    }),
  });
}

/** For each kind of feature: its geometry and its own properties. The one list of kinds. */
export const kinds = {
  lot: kind('lot', polygon, {
    own: v.boolean(),
    /** Share of its open ground that is paved where no surface is drawn, spread evenly over it. */
    paved_fraction: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
  }),
  building: kind('building', polygon, {
    foundation: v.optional(foundation),
    /** How far its footing reaches beyond the walls, below the ground. */
    footing_m: v.optional(metres),
  }),
  roof: kind('roof', polygon, {
    building: v.optional(v.string()),
    material: v.optional(v.string()),
    /** Line along which the roof falls to either side; led on straight to the eaves at both ends. */
    ridge: v.optional(v.pipe(v.array(position), v.minLength(2))),
  }),
  downspout: kind('downspout', point, {
    roof: v.string(),
    share: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
    outlet: v.optional(outlet),
    /** Id of the drain pipe that takes the water to its lower end; counts before `outlet`. */
    pipe: v.optional(v.string()),
    /** Room of a barrel that holds the water back first. */
    barrel_m3: v.optional(volumeM3),
  }),
  surface: kind('surface', polygon, {
    cover,
    condition: v.optional(condition),
    soil_group: v.optional(soilGroup),
    /** Of paving: its water spreads over lawn instead of running on to a drain or street. */
    unconnected: v.optional(v.boolean()),
  }),
  utility: kind('utility', line, {
    service,
    side: v.optional(v.picklist(['public', 'private'])),
    located: v.optional(locate),
    depth_m: v.optional(metres),
    accuracy_m: v.optional(metres),
  }),
  well: kind('well', point, {}),
  'septic-tank': kind('septic-tank', point, { radius_m: v.optional(metres) }),
  'yard-drain': kind('yard-drain', point, {
    /** Id of the drain pipe that it empties into; counts before `outlet`. */
    pipe: v.optional(v.string()),
    outlet: v.optional(outlet),
    capacity_m3_per_h: v.optional(metres),
    blocked: v.optional(v.boolean()),
  }),
  'sump-outlet': kind('sump-outlet', point, {
    rate_m3_per_h: v.optional(metres),
    /** How long it runs; as long as the storm when not given. */
    hours: v.optional(hours),
  }),
  'septic-field': kind('septic-field', polygon, {}),
  wetland: kind('wetland', polygon, {}),
  easement: kind('easement', polygon, {}),
  tree: kind('tree', point, {
    trunk_diameter_m: v.optional(metres),
    canopy_radius_m: v.optional(metres),
    /** Of the circle in which its roots are to be kept, where somebody has looked. */
    root_radius_m: v.optional(metres),
  }),
  wall: kind('wall', line, { ...length, ...inElevation }),
  kerb: kind('kerb', line, { ...length, ...inElevation }),
  /** `width_m` is measured between the shoulders. */
  swale: kind('swale', line, {
    ...length,
    ...inElevation,
    side_slope: v.optional(sideSlope),
    /** Whether its bed is dug so that it falls all the way; true when not given. */
    enforce_fall: v.optional(v.boolean()),
    /** Of its bed below the ground met at each corner, in place of one depth all along; 0 where it runs out to daylight. */
    bed_below_m: v.optional(v.array(metres)),
    /** What its bed falls by at the least. */
    least_fall: v.optional(fall),
  }),
  berm: kind('berm', line, {
    ...inElevation,
    /** Of the level crest. */
    width_m: v.optional(metres),
    height_m: v.optional(metres),
    side_slope: v.optional(sideSlope),
  }),
  regrade: kind('regrade', polygon, {
    ...inElevation,
    /** Of the whole when level, of its centre when sloping. */
    elevation_m: v.optional(elevationM),
    slope: v.optional(fall),
    /** Where it falls to, degrees clockwise from north. */
    bearing_deg: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(360))),
    /** Of the bank around it. */
    side_slope: v.optional(sideSlope),
  }),
  'drain-pipe': kind('drain-pipe', line, {
    ...length,
    slope: v.optional(fall),
    /** Manning's n. */
    roughness: v.optional(v.pipe(v.number(), v.minValue(0.005), v.maxValue(0.1))),
    /** Where its lower end leads, when that is not open ground. */
    outlet: v.optional(v.literal('storm-sewer')),
    blocked: v.optional(v.boolean()),
  }),
  /** A long grate that takes what runs across it. */
  'trench-drain': kind('trench-drain', line, {
    /** Id of the drain pipe that it empties into; counts before `outlet`. */
    pipe: v.optional(v.string()),
    outlet: v.optional(outlet),
    capacity_m3_per_h: v.optional(metres),
    blocked: v.optional(v.boolean()),
  }),
  /** Stone or crates in the ground that take roof water and let it soak away. */
  soakaway: kind('soakaway', polygon, {
    /** Of the stone or crates. */
    depth_m: v.optional(metres),
    /** Share of it that holds water. */
    void_ratio: v.optional(v.pipe(v.number(), v.minValue(0.05), v.maxValue(1))),
    /** Top of the stone below the ground. */
    cover_m: v.optional(metres),
  }),
  'french-drain': kind('french-drain', line, { width_m: length.width_m, depth_m: length.depth_m }),
  'window-well': kind('window-well', point, {
    /** How far its rim stands above the ground. */
    rim_m: v.optional(metres),
    /** How far the sill lies below the rim. */
    sill_below_m: v.optional(metres),
  }),
  fence: kind('fence', line, {
    height_m: length.height_m,
    /** Between its lower edge and the ground. */
    gap_m: v.optional(metres),
  }),
  watercourse: kind('watercourse', line, length),
  'spot-height': kind('spot-height', point, {
    /** Above the zero of the elevation, or of the levels where there is none. */
    elevation_m: v.optional(elevationM),
    /** How far below its mark it was read: a string, a line of sight. */
    drop_m: v.optional(dropM),
    /** The mark that drops are read from, where there is more than one: a set-up of the instrument. */
    mark: v.optional(v.string()),
    /** Drops of the same place below other marks: a turning point of a levelling line, foresight and backsight. */
    also: v.optional(v.array(v.looseObject({ mark: v.string(), drop_m: dropM }))),
    /** How far the reading may be off. */
    accuracy_m: v.optional(metres),
    /** How far around it the ground is corrected. */
    influence_m: v.optional(metres),
  }),
  /** The edge of water that stood: a level line. */
  'puddle-edge': kind('puddle-edge', polygon, {
    /** How deep it was at the deepest. */
    depth_m: v.optional(metres),
    /** The day on which it stood so. */
    on: v.optional(isoDate),
  }),
  /** A line at one height: a contour of a survey, the edge of a floor; its height is found where none is given. */
  'level-line': kind('level-line', line, {
    elevation_m: v.optional(elevationM),
    accuracy_m: v.optional(metres),
  }),
  /** Where the ground bends: it runs straight between the levels read along it. */
  'break-line': kind('break-line', line, {
    /** It jumps there, and the levels to its left and to its right are each a line of their own. */
    step: v.optional(v.boolean()),
  }),
  /** Around levels that are newer than the elevation and replace it there; levels outside and on the outline tie both together. */
  'relevelled-ground': kind('relevelled-ground', polygon, {
    /** The day on which they were read. */
    on: v.optional(isoDate),
  }),
  /** Water that somebody saw, or looked for. */
  observation: kind('observation', point, {
    /** How deep it stood; 0 where none did. */
    depth_m: v.optional(metres),
    on: v.optional(isoDate),
    /** Rain that had fallen, as far as it is known. */
    rain_mm: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(2000))),
    /** Hours after the rain when it was gone, or when it still stood. */
    gone_after_h: v.optional(hours),
    still_after_h: v.optional(hours),
  }),
  'soil-test': kind('soil-test', point, soilTest),
  basin: kind('basin', polygon, basinProperties(position, sideSlope)),
};

export type Kind = keyof typeof kinds;

/** Every kind's name, in the order of the table. */
export const kindNames = Object.keys(kinds) as Kind[];

/** The geometry type that features of a kind have. */
export function geometryTypeOf(kind: Kind): PlanFeature['geometry']['type'] {
  return kinds[kind].entries.geometry.entries.type.literal;
}

/** Version of the schema that this release writes. */
export const schemaVersion = 1;

/** What is not a place: the foreign member `lotfall` of the collection. */
export const settings = v.looseObject({
  /** Version of this document's schema. */
  version: v.literal(schemaVersion),
  /** What the plan is called on the sheet. */
  name: v.optional(v.string()),
  /** Unit system shown; inside everything is SI. */
  units: v.optional(v.picklist(['us', 'metric'])),
  elevation: v.optional(
    v.looseObject({
      /** File name or address of the raster that the plan was drawn on. */
      source: v.optional(v.string()),
      /** Its length and the CRC-32 of its bytes, so that another file of that name is told from it. */
      size_bytes: v.optional(v.pipe(v.number(), v.integer(), v.minValue(0))),
      crc32: v.optional(v.pipe(v.string(), v.regex(/^[0-9a-f]{8}$/, crc32Expected))),
      /** True where the ground is made from the plan's own levels, which then correct nothing. */
      of_levels: v.optional(v.boolean()),
      /** When its heights were measured: flown, not written to a file. */
      measured: v.optional(yearOrDay),
      /** Stated vertical error (RMSE) of the raster. */
      rmse_m: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(20))),
      /** Metres for one unit of the raster's heights, where its keys do not say. */
      vertical_unit_m: v.optional(v.pipe(v.number(), v.minValue(0.001), v.maxValue(10))),
    }),
  ),
  /** Condition of the ground where none is given: where no surface is drawn, and of surfaces drawn without one. */
  ground_condition: v.optional(condition),
  soil: v.optional(soilSettings),
  storm: v.optional(stormSettings),
  thaw: v.optional(thawSettings),
  /** Which of the two the sheet shows; the storm when not given. */
  event: v.optional(v.picklist(['storm', 'thaw'])),
  /** Id of the rule set for setbacks. */
  rule_set: v.optional(v.string()),
  /** Rule sets of the user's own; read by the setback work, which knows their schema. */
  rule_sets: v.optional(v.array(v.looseObject({ id: v.string() }))),
  /** Answers of locators who came and found no line, see `clearLocate`; lines that were found carry their own. */
  locates: v.optional(v.array(clearLocate(position, isoDate, service))),
  /** How much each part of a site's score counts. */
  site_weights: v.optional(v.record(v.string(), v.pipe(v.number(), v.minValue(0), v.maxValue(10)))),
  /** What a reviewer's packet says of the submission. */
  submission: v.optional(
    v.looseObject({ applicant: v.optional(v.string()), parcel: v.optional(v.string()) }),
  ),
  /** What changed from issue to issue of the drawings, for the title block and the list of revisions. */
  revisions: v.optional(
    v.array(
      v.looseObject({
        /** Letter or number of the issue. */
        mark: v.optional(v.string()),
        on: isoDate,
        what: v.string(),
        by: v.optional(v.string()),
      }),
    ),
  ),
  /** How earth swells and packs and how much more is ordered, where the tables are not to count. */
  earth: v.optional(earthSettings),
  /** What was said of the job of building: days, people, prices, plants. */
  job: v.optional(jobSettings(isoDate)),
  /** What materials and work cost, by the name of the quantity, in the user's currency. */
  prices: v.optional(v.record(v.string(), v.pipe(v.number(), v.minValue(0)))),
});

export type Settings = v.InferOutput<typeof settings>;
export type FeatureOf<K extends Kind> = v.InferOutput<(typeof kinds)[K]>;
/** Any feature of a plan; `properties.kind` tells which. */
export type PlanFeature = { [K in Kind]: FeatureOf<K> }[Kind];

/** The plan document, deeply readonly by convention: a change makes a new one. */
export interface Plan {
  readonly type: 'FeatureCollection';
  readonly features: readonly PlanFeature[];
  readonly lotfall: Settings;
}

/** The features of one kind, in document order. */
export function featuresOf<K extends Kind>(plan: Plan, kind: K): FeatureOf<K>[] {
  return plan.features.filter((feature): feature is FeatureOf<K> => isKind(feature, kind));
}

/** Whether a feature is of a kind. */
export function isKind<K extends Kind>(feature: PlanFeature, kind: K): feature is FeatureOf<K> {
  return feature.properties.kind === kind;
}

function isPosition(value: unknown): boolean {
  if (!Array.isArray(value) || value.length < 2) return false;
  const [lng, lat] = value as unknown[];
  return (
    typeof lng === 'number' &&
    typeof lat === 'number' &&
    Math.abs(lng) <= 180 &&
    Math.abs(lat) <= 90
  );
}

/** Whether a value is a year from 1900 on, a month, or a day. */
export function isYearOrDay(value: unknown): boolean {
  if (typeof value !== 'string') return false;
  const parts = /^(\d{4})(-\d\d)?(-\d\d)?$/.exec(value);
  if (parts === null || Number(parts[1]) < 1900) return false;
  return isDay(`${parts[1]}${parts[2] ?? '-01'}${parts[3] ?? '-01'}`);
}

/** Whether a value is a day of the calendar, written year-month-day. */
export function isDay(value: unknown): boolean {
  if (typeof value !== 'string' || !/^\d{4}-\d\d-\d\d$/.test(value)) return false;
  const time = Date.parse(`${value}T00:00:00Z`);
  // 31 February parses as 3 March in some engines, so the day must come back as it went in.
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(value);
}

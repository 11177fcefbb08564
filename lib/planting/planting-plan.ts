import type { PlantingZone } from '../basin/form/planting-zones';
import type { Frame, LngLat } from '../frame/frame';
import { sourceLine } from '../source';
import { bloomCalendar, type BloomCalendar } from './bloom-calendar';
import { coverOf, layOut, type LayOutOptions, type PlantGroup } from './lay-out';
import { nativeReminder, tallM, tallSource, type Plant } from './plant';
import { careOfTwoYears, type CareRow } from './planting-care';

/** The planting of one basin. Field names are those of the JSON output. */
export interface PlantingPlan {
  readonly id: string;
  readonly name: string;
  readonly zones: readonly {
    readonly zone: string;
    readonly area_m2: number;
    readonly groups: readonly PlantedGroup[];
    /** Of the zone's area, by the ground that each plant has on the grid. */
    readonly cover: number;
  }[];
  readonly count: number;
  readonly bloom: BloomCalendar;
  readonly care: readonly CareRow[];
  readonly reminder: string;
  readonly notes: readonly string[];
}

export interface PlantedGroup {
  readonly name: string;
  readonly common: string | null;
  readonly spread_m: number;
  readonly height_m: readonly [number, number];
  readonly sun: string;
  readonly native_to: string;
  /** By area at its spread, rounded up; how many the drawing has room for. */
  readonly by_area: number;
  readonly count: number;
  /** Places in degrees. */
  readonly at: readonly LngLat[];
  readonly sources: {
    readonly height: string;
    readonly spread: string;
    readonly bloom: string;
  } | null;
}

export interface PlantingInput {
  readonly id: string;
  readonly name: string;
  readonly zones: readonly PlantingZone[];
  readonly frame: Frame;
}

/** Plants set in a basin's zones, with counts, bloom, care, and what to mind. */
export function plantingPlan(
  { id, name, zones, frame }: PlantingInput,
  plants: readonly Plant[],
  options: LayOutOptions,
): PlantingPlan {
  const laid = layOut(zones, plants, options);
  const groups = laid.flatMap((each) => each.groups);
  return {
    id,
    name,
    zones: laid.map(({ zone, groups: own }) => ({
      zone: zone.zone,
      area_m2: zone.areaM2,
      groups: own.map((group) => groupOf(group, frame)),
      cover: coverOf(own, options.grid),
    })),
    count: groups.reduce((sum, { set }) => sum + set.length, 0),
    bloom: bloomCalendar(plants),
    care: careOfTwoYears,
    reminder: nativeReminder,
    notes: notesOf(zones, plants, groups, options),
  };
}

function groupOf({ plant, byArea, set }: PlantGroup, frame: Frame): PlantedGroup {
  const { sources } = plant;
  return {
    name: plant.name,
    common: plant.common,
    spread_m: plant.spreadM,
    height_m: plant.heightM,
    sun: plant.sun,
    native_to: plant.nativeTo,
    by_area: Math.ceil(byArea - 1e-9),
    count: set.length,
    at: set.map(({ at }) => frame.toLngLat(at)),
    sources:
      sources === null
        ? null
        : {
            height: sourceLine(sources.height),
            spread: sourceLine(sources.spread),
            bloom: sourceLine(sources.bloom),
          },
  };
}

function notesOf(
  zones: readonly PlantingZone[],
  plants: readonly Plant[],
  groups: readonly PlantGroup[],
  { viewFrom }: LayOutOptions,
): string[] {
  const notes: string[] = [];
  for (const { zone } of zones) {
    if (!plants.some((plant) => plant.zone === zone)) {
      notes.push(`The list has nothing for the ${zone} zone: it stays bare.`);
    }
  }
  for (const { plant, set } of groups) {
    if (set.length === 0) notes.push(`There is no room for ${plant.name} at its spread.`);
  }
  const tall = groups.filter(({ plant, set }) => plant.heightM[1] > tallM + 1e-6 && set.length > 0);
  if (tall.length > 0) {
    notes.push(
      `Over 3 ft (0.9 m) plants tend to flop, use them sparingly: ${tall.map(({ plant }) => plant.name).join(', ')} (${sourceLine(tallSource)}).`,
    );
  }
  const hidden = viewFrom === undefined ? [] : hiddenBehind(groups, viewFrom);
  notes.push(...hidden);
  return notes;
}

/** Species that stand behind taller ones as a whole, seen from the viewing side. */
function hiddenBehind(
  groups: readonly PlantGroup[],
  [vx, vy]: NonNullable<LayOutOptions['viewFrom']>,
): string[] {
  const stand = groups
    .filter(({ set }) => set.length > 0)
    .map(({ plant, set }) => ({
      plant,
      // nearest and middle, towards the eye
      middle: set.reduce((sum, { at: [x, y] }) => sum + x * vx + y * vy, 0) / set.length,
    }));
  return stand.flatMap(({ plant, middle }) => {
    const before = stand.filter(
      (other) => other.middle > middle && other.plant.heightM[0] > plant.heightM[1],
    );
    if (before.length === 0) return [];
    return [
      `From the viewing side ${plant.name} stands behind taller ${before.map((other) => other.plant.name).join(', ')}: zones go by water, so change the list, or look from another side.`,
    ];
  });
}

import {
  classDepthM,
  classOfDepth,
  nearDownspoutM,
  sizeFactor,
  sizingSoil,
  type DepthClass,
  type SoilTexture,
} from '../basin/form/size-factors';
import { basinDefaults } from '../ground/ground';
import { areaM2, nearest } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import type { BroadTexture } from '../soil/texture-table';
import { sourceLine, type Source } from '../source';
import type { DrainedArea } from './drained-areas';

/** Area of garden that one drained area asks for, by depth of ponding and by how far it lies from the downspout. */
export interface SizeRow {
  readonly feature: string;
  readonly name: string;
  readonly what: DrainedArea['what'];
  readonly drains_m2: number;
  readonly garden_m2: Readonly<Record<DepthClass | 'far', number>>;
}

/** A drawn basin beside what the factors ask for were all of it led there. */
export interface BasinOnPaper {
  readonly basin: string;
  readonly name: string;
  readonly area_m2: number;
  readonly ponding_depth_m: number;
  readonly wanted_m2: number;
  /** Of what is wanted, what there is. */
  readonly share: number;
}

export interface SizeOnPaper {
  readonly soil: SoilTexture;
  readonly soil_assumed: boolean;
  /** Ponding depths that the columns stand for, metres. */
  readonly depth_m: Readonly<Record<DepthClass, number>>;
  /** From here on a garden is far, metres. */
  readonly far_m: number;
  readonly rows: readonly SizeRow[];
  readonly total: SizeRow | null;
  /** The area that holds the event's rain from all of it, none soaking in meanwhile, by depth. */
  readonly holds_rain_m2: Readonly<Record<DepthClass, number>> | null;
  readonly basins: readonly BasinOnPaper[];
  readonly sources: readonly Source[];
}

/** Where dividing the water by the depth stands. */
const holdAll: Source = {
  title: 'Rain garden slides: drained area times an inch, over the depth',
  publisher: 'Rhode Island and Connecticut extension',
  year: null,
  mark: 'seen in a secondary copy',
};

/** From the shallowest on. */
export const depthClasses: readonly DepthClass[] = ['shallow', 'middle', 'deep'];

/** Sizes by the published factors, from drawn areas alone. */
export function sizeOnPaper(
  plan: LocalPlan,
  areas: readonly DrainedArea[],
  { broad, rainMm }: { readonly broad: BroadTexture | null; readonly rainMm: number },
): SizeOnPaper {
  const { texture, assumed } = sizingSoil(broad);
  const rows = areas.map((area) => sizeRow(area, texture));
  const drained = areas.reduce((sum, area) => sum + area.areaM2, 0);
  const used = [
    ...depthClasses.map((depth) => sizeFactor(texture, depth, 0)),
    sizeFactor(texture, 'deep', Infinity),
  ];
  const sources = [...new Map(used.map(({ source }) => [sourceLine(source), source])).values()];
  return {
    soil: texture,
    soil_assumed: assumed,
    depth_m: classDepthM,
    far_m: nearDownspoutM,
    rows,
    total: rows.length === 0 ? null : totalOf(rows),
    holds_rain_m2:
      drained === 0 ? null : byClass((depth) => (drained * rainMm) / 1000 / classDepthM[depth]),
    basins: plan.of.basin.map((basin) => basinOnPaper(basin, areas, texture)),
    sources: [...sources, holdAll],
  };
}

function byClass(value: (depth: DepthClass) => number): Record<DepthClass, number> {
  return { shallow: value('shallow'), middle: value('middle'), deep: value('deep') };
}

function sizeRow({ id, name, what, areaM2: drainsM2 }: DrainedArea, soil: SoilTexture): SizeRow {
  return {
    feature: id,
    name,
    what,
    drains_m2: drainsM2,
    garden_m2: {
      ...byClass((depth) => drainsM2 * sizeFactor(soil, depth, 0).factor),
      far: drainsM2 * sizeFactor(soil, 'deep', Infinity).factor,
    },
  };
}

function totalOf(rows: readonly SizeRow[]): SizeRow {
  const sum = (of: (row: SizeRow) => number): number => rows.reduce((all, row) => all + of(row), 0);
  return {
    feature: '',
    name: 'all of it',
    what: 'roof',
    drains_m2: sum((row) => row.drains_m2),
    garden_m2: {
      ...byClass((depth) => sum((row) => row.garden_m2[depth])),
      far: sum((row) => row.garden_m2.far),
    },
  };
}

function basinOnPaper(
  { id, feature, shape }: LocalFeature<'basin'>,
  areas: readonly DrainedArea[],
  soil: SoilTexture,
): BasinOnPaper {
  const pondingM = feature.properties.ponding_depth_m ?? basinDefaults.pondingDepthM;
  const wanted = areas.reduce((sum, { areaM2: drainsM2, outlet }) => {
    const awayM = outlet === null ? 0 : nearest({ type: 'point', at: outlet }, shape).distanceM;
    return sum + drainsM2 * sizeFactor(soil, classOfDepth(pondingM), awayM).factor;
  }, 0);
  const hasM2 = areaM2(shape.rings);
  return {
    basin: id,
    name: featureName(feature),
    area_m2: hasM2,
    ponding_depth_m: pondingM,
    wanted_m2: wanted,
    share: wanted === 0 ? 1 : hasM2 / wanted,
  };
}

import { featureCollection, intersect, polygon as turfPolygon } from '@turf/turf';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import type { Grid } from '../../elevation/grid';
import type { Frame, XY } from '../../frame/frame';
import { areaM2 } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { contributingShare, targetWithPonds } from '../terrain/contributing-share';
import type { Contributing } from './drainage-result';
import { elsewhere } from './ledger';
import { outline } from './outline';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { stormShare } from '../storm/storm-share';
import { covers } from '../storm/surface-run-off';
import { featureName } from '../../plan/feature-name';

/** A cell belongs to the outline when at least this share of its water comes. */
const mostlyShare = 0.5;
/** Patches of the outline smaller than this are crumbs of the grid and are left out of it, m2. Our choice, no source. */
const crumbM2 = 1;

/**
 * What drains to a set of cells: how much, from which sources, and from which ground.
 *
 * Areas count every cell by the share of its water that comes, by multiple flow, the storm's own as the storm is routed; a roof
 * counts where its downspouts empty. Ground under buildings counts for nothing. The outline, which shows the
 * ground that sends most of its water, is overlaid with the lots as polygons. The storm's area alone counts
 * what drains bring, and of a pond that lies over the edge of the target what comes to stand on it: it may be the larger.
 *
 * @param target - cells whose water is asked for.
 * @param feature - what to call the target in the answer.
 * Cost: O(n), and the overlay of the outline.
 */
export function contributingArea(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  target: Int32Array,
  feature: string,
): Contributing {
  const { ground, terrain, routing, cellM2 } = shape;
  const { share, cutByEdge } = contributingShare(routing, target);
  const arriving = stormShare(
    storm.flow,
    storm.depthM,
    targetWithPonds(storm.flow.routing, target),
  );

  const sources = new Map<string, number>();
  const add = (source: string, area: number): void => {
    if (area > 0) sources.set(source, (sources.get(source) ?? 0) + area);
  };
  const weights = openArea(shape, storm);
  let arrivingM2 = 0;
  const byCover = new Float64Array(covers.length);
  const byLot = new Float64Array(ground.lots.length + 1);
  const mostly = new Uint8Array(share.length);
  for (let cell = 0; cell < share.length; cell++) {
    if (ground.sheltered[cell] === 1 || Number.isNaN(terrain.z[cell])) continue;
    if (share[cell] >= mostlyShare) mostly[cell] = 1;
    const lot = ground.lotOf[cell];
    if (lot !== -1 && ground.lots[lot].own) byCover[storm.surfaces.coverOf[cell]] += share[cell];
    else byLot[lot === -1 ? ground.lots.length : lot] += share[cell];
  }
  byCover.forEach((cells, index) => {
    add(`own ${covers[index]}`, cells * cellM2);
  });
  byLot.forEach((cells, index) => {
    add(ground.lots[index]?.id ?? elsewhere, cells * cellM2);
  });
  for (const { roof, areaM2: roofM2, cells } of storm.roofs.outlets) {
    for (const cell of cells) add(`roof ${roof}`, (roofM2 / cells.length) * share[cell]);
  }
  const inBarrels = barrelArea(storm);
  for (let cell = 0; cell < share.length; cell++) {
    arrivingM2 += arriving[cell] * (weights[cell] - (inBarrels.get(cell) ?? 0));
  }

  const patches = patchesOf(ground.grid, mostly);
  const by_source = [...sources]
    .map(([source, area_m2]) => ({ source, area_m2 }))
    .sort((a, b) => b.area_m2 - a.area_m2);
  const area_m2 = by_source.reduce((sum, row) => sum + row.area_m2, 0);
  return {
    feature,
    area_m2,
    storm_area_m2: arrivingM2,
    by_source,
    outline: toMultiPolygon(patches, plan.frame),
    by_lot: overlayLots(patches, plan),
    cut_by_edge: cutByEdge,
  };
}

/** Roof area whose water barrels hold back, by the cell that would have received it, m2. */
function barrelArea(storm: StormOnGround): Map<number, number> {
  const held = new Map<number, number>();
  for (const { outlet, volumeM3, barrelM3 } of storm.roofFlows) {
    if (barrelM3 === 0 || volumeM3 === 0) continue;
    const perCell = (outlet.areaM2 * barrelM3) / volumeM3 / outlet.cells.length;
    for (const cell of outlet.cells) held.set(cell, (held.get(cell) ?? 0) + perCell);
  }
  return held;
}

/** Area that counts at each cell: open ground, and the roofs that empty there, m2. */
export function openArea(
  { ground, terrain, cellM2 }: ShapedGround,
  storm: StormOnGround,
): Float64Array {
  const weights = new Float64Array(terrain.z.length);
  for (let cell = 0; cell < weights.length; cell++) {
    weights[cell] = ground.sheltered[cell] === 1 || Number.isNaN(terrain.z[cell]) ? 0 : cellM2;
  }
  for (const { areaM2: roofM2, cells } of storm.roofs.outlets) {
    for (const cell of cells) weights[cell] += roofM2 / cells.length;
  }
  return weights;
}

/** Regions of a mask as polygons in local metres, crumbs left out. */
export function patchesOf(grid: Grid, mask: ArrayLike<number>): XY[][][] {
  const toXY = ([column, row]: readonly [number, number]): XY => [
    grid.westM + column * grid.cellM,
    grid.northM - row * grid.cellM,
  ];
  const leastCells = Math.ceil(crumbM2 / (grid.cellM * grid.cellM) - 1e-9);
  return outline(mask, grid.width, grid.height, { leastCells }).map(({ outer, holes }) => [
    outer.map(toXY),
    ...holes.map((hole) => hole.map(toXY)).filter((hole) => areaM2([hole]) >= crumbM2),
  ]);
}

/** Regions of some cells as polygons in local metres, crumbs left out. Cost: linear in their bounding box. */
export function patchesOfCells(grid: Grid, cells: Int32Array): XY[][][] {
  let [west, north, east, south] = [Infinity, Infinity, -1, -1];
  for (const cell of cells) {
    const row = Math.floor(cell / grid.width);
    const column = cell - row * grid.width;
    west = Math.min(west, column);
    east = Math.max(east, column);
    north = Math.min(north, row);
    south = Math.max(south, row);
  }
  if (east < 0) return [];
  const width = east - west + 1;
  const mask = new Uint8Array(width * (south - north + 1));
  for (const cell of cells) {
    const row = Math.floor(cell / grid.width);
    mask[(row - north) * width + cell - row * grid.width - west] = 1;
  }
  const window = {
    ...grid,
    width,
    height: south - north + 1,
    westM: grid.westM + west * grid.cellM,
    northM: grid.northM - north * grid.cellM,
  };
  return patchesOf(window, mask);
}

/** Polygons of local metres as one geometry in longitude and latitude. */
export function toMultiPolygon(patches: readonly (readonly XY[])[][], frame: Frame): MultiPolygon {
  return {
    type: 'MultiPolygon',
    coordinates: patches.map((rings) =>
      rings.map((ring) => ring.map((at) => [...frame.toLngLat(at)])),
    ),
  };
}

/** Area of the patches on each lot, and on none. Turf's overlay is planar, so it is given local metres. */
function overlayLots(patches: readonly XY[][][], plan: LocalPlan): Contributing['by_lot'] {
  const whole = patches.reduce((sum, rings) => sum + areaM2(rings), 0);
  const shapes = patches.map((rings) => planar(rings));
  const rows = plan.of.lot.map((lot) => {
    const outlineOfLot = planar(lot.shape.rings.map((ring) => [...ring, ring[0]]));
    const area_m2 = shapes.reduce((sum, shape) => sum + overlapM2(shape, outlineOfLot), 0);
    return { lot: lot.id, name: featureName(lot.feature), area_m2 };
  });
  const onLots = rows.reduce((sum, row) => sum + row.area_m2, 0);
  return [
    ...rows.filter((row) => row.area_m2 > 0),
    { lot: null, name: elsewhere, area_m2: Math.max(0, whole - onLots) },
  ];
}

/** Rounded to a micrometre: the overlay cannot tell lines apart that lie closer, as a lot line drawn along the edges of cells does. */
function planar(rings: readonly (readonly XY[])[]): Feature<Polygon> {
  const rounded = (lengthM: number): number => Math.round(lengthM * 1e6) / 1e6;
  return turfPolygon(rings.map((ring) => ring.map(([x, y]) => [rounded(x), rounded(y)])));
}

function overlapM2(a: Feature<Polygon>, b: Feature<Polygon>): number {
  const common: Feature<Polygon | MultiPolygon> | null = intersect(featureCollection([a, b]));
  if (common === null) return 0;
  const { geometry } = common;
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  return polygons.reduce(
    (sum, rings) => sum + areaM2(rings.map((ring) => ring.map(([x, y]): XY => [x, y]))),
    0,
  );
}

import { cellAt, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { areaM2, distanceM, type Ring } from '../frame/shapes';
import type { Ground } from '../ground/ground';
import { cellsAlong } from '../ground/rasterise';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';

/** Where a part of a roof's water enters the ground, or that it leaves by the storm sewer. */
export interface RoofOutlet {
  readonly roof: string;
  /** Downspout, or null for water that drips off the eaves of a roof without any. */
  readonly downspout: string | null;
  /** Plan area of roof that drains here, m2. */
  readonly areaM2: number;
  /** Cells that receive the water in equal parts; empty for the storm sewer. */
  readonly cells: Int32Array<ArrayBuffer>;
}

export interface RoofWater {
  readonly outlets: readonly RoofOutlet[];
  /** What had to be assumed, in the user's words. */
  readonly notes: readonly string[];
}

/**
 * Shares each roof among its downspouts and finds where their water reaches the ground.
 *
 * Given shares are used as they are; downspouts without one divide what is left by the length of eave that is
 * nearest to each. A roof without downspouts drips off along its eaves. An outlet under a building is moved
 * to the nearest open ground. Gutters are taken to hold the storm: overflowing ones are not modelled.
 *
 * The plan area of a roof is what catches rain, whatever its pitch.
 */
export function roofWater(ground: Ground, plan: LocalPlan): RoofWater {
  const notes: string[] = [];
  const outlets: RoofOutlet[] = [];
  const downspouts = plan.of.downspout;
  for (const roof of roofsOf(plan)) {
    const own = downspouts.filter((downspout) => downspout.feature.properties.roof === roof.id);
    if (own.length === 0) {
      outlets.push({
        roof: roof.id,
        downspout: null,
        areaM2: roof.areaM2,
        cells: eaves(ground, roof.outline),
      });
      continue;
    }
    const shares = shareOut(roof.outline, own);
    const sum = shares.reduce((total, share) => total + share, 0);
    if (Math.abs(sum - 1) > 0.01) {
      notes.push(
        `The shares of the downspouts of ${roof.id} add up to ${Math.round(sum * 100)} %; they were scaled to 100 %.`,
      );
    }
    own.forEach((downspout, i) => {
      const share = sum > 0 ? shares[i] / sum : 1 / own.length;
      const at = downspout.outlet === 'storm-sewer' ? null : downspout.outlet;
      const cells = at === null ? [] : openGroundNear(ground, at);
      if (at !== null && cells.length === 0) {
        notes.push(
          `The outlet of ${downspout.id} lies outside the elevation data; its water is not followed.`,
        );
      }
      outlets.push({
        roof: roof.id,
        downspout: downspout.id,
        areaM2: roof.areaM2 * share,
        cells: Int32Array.from(cells),
      });
    });
  }
  return { outlets, notes };
}

interface RoofOutline {
  readonly id: string;
  readonly outline: Ring;
  readonly areaM2: number;
}

/** The roofs drawn, and for a building on which none is drawn its own outline. */
function roofsOf(plan: LocalPlan): RoofOutline[] {
  const roofs = plan.of.roof;
  const covered = new Set(roofs.map((roof) => roof.feature.properties.building));
  const bare = plan.of.building.filter((building) => !covered.has(building.id));
  return [...roofs, ...bare].map((feature) => ({
    id: feature.id,
    outline: feature.shape.rings[0],
    areaM2: areaM2(feature.shape.rings),
  }));
}

/** The share of each downspout as given, or by the length of outline that is nearest to it. */
function shareOut(outline: Ring, downspouts: readonly LocalFeature<'downspout'>[]): number[] {
  const given = downspouts.map((downspout) => downspout.feature.properties.share);
  const open = downspouts.filter((_, i) => given[i] === undefined);
  if (open.length === 0) return given.map((share) => share ?? 0);
  const left = Math.max(0, 1 - given.reduce((sum: number, share) => sum + (share ?? 0), 0));
  const lengths = new Map(open.map((downspout) => [downspout.id, 0]));
  let whole = 0;
  for (const [at, stepM] of alongOutline(outline)) {
    let nearest = open[0];
    for (const downspout of open) {
      if (distanceM(downspout.shape.at, at) < distanceM(nearest.shape.at, at)) nearest = downspout;
    }
    lengths.set(nearest.id, (lengths.get(nearest.id) ?? 0) + stepM);
    whole += stepM;
  }
  return downspouts.map(
    (downspout, i) => given[i] ?? (left * (lengths.get(downspout.id) ?? 0)) / whole,
  );
}

/** Points every quarter of a metre or so along an outline, each with the length it stands for. */
function* alongOutline(outline: Ring): Generator<[XY, number]> {
  for (let i = 0; i < outline.length; i++) {
    const from = outline[i];
    const to = outline[(i + 1) % outline.length];
    const length = distanceM(from, to);
    const pieces = Math.ceil(length / 0.25);
    for (let piece = 0; piece < pieces; piece++) {
      const t = (piece + 0.5) / pieces;
      yield [[from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])], length / pieces];
    }
  }
}

/** Open ground just outside an outline. */
function eaves(ground: Ground, outline: Ring): Int32Array<ArrayBuffer> {
  const found = new Set<number>();
  for (const cell of cellsAlong(ground.grid, [...outline, outline[0]])) {
    for (const open of around(ground, cell, 3)) found.add(open);
  }
  return Int32Array.from(found);
}

/** The cell at a point, or the nearest that is open ground and holds data, or none. */
function openGroundNear(ground: Ground, at: XY): number[] {
  const cell = cellAt(ground.grid, at[0], at[1]);
  return cell === -1 ? [] : around(ground, cell, 40);
}

/** The open-ground cells in the smallest square ring around a cell that has any; the nearest of them. */
function around(ground: Ground, cell: number, reach: number): number[] {
  const { grid } = ground;
  if (isOpen(ground, cell)) return [cell];
  const row = Math.floor(cell / grid.width);
  const column = cell - row * grid.width;
  for (let ring = 1; ring <= reach; ring++) {
    let best = -1;
    let bestSquared = Infinity;
    for (const [dx, dy] of squareRing(ring)) {
      const c = column + dx;
      const r = row + dy;
      if (c < 0 || r < 0 || c >= grid.width || r >= grid.height) continue;
      const index = r * grid.width + c;
      const squared = dx * dx + dy * dy;
      if (isOpen(ground, index) && squared < bestSquared) {
        best = index;
        bestSquared = squared;
      }
    }
    if (best !== -1) return [best];
  }
  return [];
}

function* squareRing(ring: number): Generator<[number, number]> {
  for (let along = -ring; along <= ring; along++) {
    yield [along, -ring];
    yield [along, ring];
    yield [-ring, along];
    yield [ring, along];
  }
}

function isOpen({ grid, obstacle }: { grid: Grid; obstacle: Uint8Array }, cell: number): boolean {
  return obstacle[cell] === 0 && !Number.isNaN(grid.z[cell]);
}

import { contributingShare, targetWithPonds } from '../../drainage/terrain/contributing-share';
import { NONE, neighbourOffsets } from '../../drainage/terrain/neighbours';
import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import type { StormOnGround } from '../../drainage/storm/storm-on-ground';
import { stormShare } from '../../drainage/storm/storm-share';
import { roofSurface } from '../../drainage/storm/surface-run-off';
import type { BasinForm } from '../../ground/basin-form';
import type { SurfaceClass } from '../../storm/surface-class';
import { shallowFlowMPerS, sheetFlowS, sheetRoughness } from '../../storm/travel-time';
import type { Source } from '../../source';
import { dayMin, footM, hourS, inchM } from '../../units/units';
import { leastSlope, wayToBasin, type FlowResistance, type WayToBasin } from './way-to-basin';

/** Area of one kind of surface whose water comes to a basin, by how long it flows. */
export interface CatchmentPart {
  readonly surface: SurfaceClass;
  /** Downspout, or roof where it has none, that the water comes from; `null` for ground. */
  readonly roof: string | null;
  /** Area by minutes on the way, m2: entry k is on its way for k minutes. */
  readonly byMinuteM2: Float64Array;
  /** Of its water, what a barrel holds back first, m3. */
  readonly barrelM3: number;
}

/** Parts whose water passes the same low spot, or none. */
export interface CatchmentGroup {
  readonly parts: readonly CatchmentPart[];
  /** Of their water, what low spots on the way hold back first, m3. */
  readonly heldBackM3: number;
}

/** Roof area whose water comes to a basin. */
export interface CatchmentRoof {
  readonly id: string;
  readonly areaM2: number;
  readonly distanceM: number;
  /** Time on the way, in the mean over the area. */
  readonly travelS: number;
}

/** What drains to a basin before any other. */
export interface BasinCatchment {
  /** Ground and roofs beside the basin itself, each by the share of its water that comes by topography, m2. */
  readonly areaM2: number;
  readonly groundM2: number;
  /** Of the ground, by class of the storm's surfaces, m2. */
  readonly areasByClass: Float64Array;
  /** By downspout, or by roof where it has none; with how far its water runs over the ground. */
  readonly roofs: readonly CatchmentRoof[];
  readonly groups: readonly CatchmentGroup[];
  /** Water of sumps and drains that comes evenly while the event lasts, m3. */
  readonly steadyM3: number;
  readonly steadyS: number;
  /** Way and time of the ground's water, in means over its area. */
  readonly meanLengthM: number;
  readonly meanTravelS: number;
  /** Time on the way of the water that comes from farthest, roofs' too, to the minute. */
  readonly longestTravelS: number;
  /** Whether ground beyond the elevation data would drain here too: then all of it is a lower bound. */
  readonly cutByEdge: boolean;
}

/** Farther than this water no longer flows in a sheet: 100 ft in later use of TR-55, 300 ft in its text (facts, from memory). */
export const sheetM = 100 * footM;
/** How long water is on its way, by sheet flow and shallow flow. */
export const travelSource: Source = {
  title: 'Urban Hydrology for Small Watersheds, Technical Release 55',
  publisher: 'USDA Soil Conservation Service',
  year: 1986,
  section: 'chapter 3, equation 3-3 (sheet flow), and appendix F (shallow flow)',
  mark: 'seen',
};
/** Lags are kept by the minute, up to a day. */
const lagS = 60;
const mostMinutes = dayMin;

/**
 * Manning's n of sheet flow by cover. TR-55 (table 3-1, read) has gravel and bare soil with the smooth surfaces and lawn grass with
 * the dense; beds and decks are taken for what is nearest.
 */
const roughnessOf: Readonly<Record<SurfaceClass['cover'], number>> = {
  lawn: sheetRoughness['dense grass'],
  bed: sheetRoughness['dense grass'],
  woods: sheetRoughness['light woods'],
  meadow: sheetRoughness['dense grass'],
  gravel: sheetRoughness.smooth,
  paving: sheetRoughness.smooth,
  deck: sheetRoughness.smooth,
  bare: sheetRoughness.smooth,
  roof: sheetRoughness.smooth,
  basin: sheetRoughness['dense grass'],
};

/**
 * Finds what drains to a basin, how long it is on its way, and what is held back there.
 *
 * Shares are by multiple flow, as the storm's are, each cell's water ending in the first basin that it meets. Time is
 * that of TR-55: a sheet for the first 30 m of the way, runnels after that; water from a downspout runs in runnels all
 * the way, and gets there at once where a pipe brings it. What low spots on the way hold back at the end of the storm is cut off the
 * beginning of the water that passes them, so that what comes in all is what the storm brings.
 *
 * @param shape - the ground with the basins cut in.
 * @param storm - the storm or thaw on it.
 * @param others - the other basins, where water ends as well.
 * @param rain2yMm - 2-year rain of 24 h, for sheet flow.
 * Cost: O(n), some five sweeps over the grid.
 */
export function basinCatchment(
  shape: ShapedGround,
  storm: StormOnGround,
  basin: Pick<BasinForm, 'cells'>,
  others: readonly Pick<BasinForm, 'cells'>[],
  rain2yMm: number,
): BasinCatchment {
  return {
    ...waterToBasin(shape, storm, basin, others, rain2yMm),
    cutByEdge: contributingShare(storm.flow.routing, basin.cells).cutByEdge,
  };
}

/** The same, not asked whether the elevation ends within it. Cost: three quarters. */
export function waterToBasin(
  shape: ShapedGround,
  storm: StormOnGround,
  basin: Pick<BasinForm, 'cells'>,
  others: readonly Pick<BasinForm, 'cells'>[],
  rain2yMm: number,
): Omit<BasinCatchment, 'cutByEdge'> {
  const { ground, terrain, cellM2 } = shape;
  const { routing } = storm.flow;
  const { classes, classOf } = storm.surfaces;
  const size = terrain.z.length;
  const ends = new Uint8Array(size);
  for (const { cells } of others) for (const cell of cells) ends[cell] = 1;
  const isTarget = targetWithPonds(routing, basin.cells);

  const isBasin = new Uint8Array(size);
  for (const cell of basin.cells) isBasin[cell] = 1;

  const resistance = classes.map(({ cover }): FlowResistance => ({
    roughness: roughnessOf[cover],
    runnelMPerS: shallowFlowMPerS(1, cover === 'paving' || cover === 'roof'),
  }));
  const way = wayToBasin(routing, isTarget, ends, classOf, resistance, ground.grid.cellM);
  const holding = whatIsHeld(storm, isTarget, ends, way);
  const collected = new Collected(storm);
  let groundM2 = 0;
  let lengths = 0;
  let times = 0;
  const byClass = new Float64Array(classes.length);
  for (let cell = 0; cell < size; cell++) {
    const share = way.share[cell];
    if (share === 0 || isBasin[cell] === 1 || ground.sheltered[cell] === 1) continue;
    const areaM2 = share * cellM2;
    const travelS = travelTimeS(way, cell, share, rain2yMm);
    const { group, passes } = holding.at(cell);
    collected.addGround(group, passes, classOf[cell], areaM2, travelS);
    byClass[classOf[cell]] += areaM2;
    groundM2 += areaM2;
    lengths += way.lengthM[cell] * cellM2;
    times += travelS * areaM2;
  }
  const roofs = addRoofs(storm, way, holding, collected);
  const groups = collected.groups();
  return {
    areaM2: groundM2 + roofs.reduce((sum, { areaM2 }) => sum + areaM2, 0),
    groundM2,
    areasByClass: byClass,
    roofs,
    groups,
    steadyM3: steadyWater(storm, way, holding),
    steadyS: storm.durationH * hourS,
    meanLengthM: groundM2 > 0 ? lengths / groundM2 : 0,
    meanTravelS: groundM2 > 0 ? times / groundM2 : 0,
    longestTravelS: longestLagS(groups),
  };
}

/** Time on the way from a cell, in a sheet first, seconds. */
function travelTimeS(way: WayToBasin, cell: number, share: number, rain2yMm: number): number {
  const lengthM = way.lengthM[cell] / share;
  if (!(lengthM > 0)) return 0;
  const inSheetM = Math.min(lengthM, sheetM);
  const sheetS = sheetFlowS({
    lengthM: inSheetM,
    slope: Math.max(leastSlope, way.fallM[cell] / way.lengthM[cell]),
    roughness: way.roughM[cell] / way.lengthM[cell],
    rain2yMm: Math.max(inchM / 0.001, rain2yMm),
  });
  return sheetS + (way.runnelS[cell] / share) * (1 - inSheetM / lengthM);
}

/** Which low spot the water of a cell passes on its way, and what share of that water gets past it. */
interface Holding {
  at(cell: number): { readonly group: number; readonly passes: number };
}

/** Nothing on the way holds water back. */
const direct = -1;

function whatIsHeld(
  storm: StormOnGround,
  isTarget: Uint8Array,
  ends: Uint8Array,
  way: WayToBasin,
): Holding {
  const arriving = stormShare(storm.flow, storm.depthM, isTarget, { isEnd: ends, ledOn: false });
  const pondOnWay = firstPonds(storm.flow.routing, isTarget);
  const straight = { group: direct, passes: 1 };
  return {
    at(cell) {
      const group = pondOnWay[cell];
      if (isTarget[cell] === 1 || group === 0) return straight;
      return { group, passes: way.share[cell] > 0 ? arriving[cell] / way.share[cell] : 0 };
    },
  };
}

/** The first pond on the steepest way from each cell; 0 where there is none before the target. */
function firstPonds(
  { upstreamFirst, ponds, terrain }: ShapedGround['routing'],
  isTarget: Uint8Array,
): Int32Array {
  const offsets = neighbourOffsets(terrain.width);
  const first = ponds.of.slice();
  for (let at = upstreamFirst.length - 1; at >= 0; at--) {
    const cell = upstreamFirst[at];
    const code = terrain.receiver[cell];
    if (isTarget[cell] === 1) first[cell] = 0;
    else if (first[cell] === 0 && code < NONE) first[cell] = first[cell + offsets[code]];
  }
  return first;
}

/** Area by group, surface and minute. */
class Collected {
  readonly #grounds = new Map<number, { surface: SurfaceClass; lags: number[] }>();
  readonly #roofParts = new Map<number, CatchmentPart[]>();
  readonly #heldM3 = new Map<number, number>();
  readonly #storm: StormOnGround;

  constructor(storm: StormOnGround) {
    this.#storm = storm;
  }

  addGround(group: number, passes: number, at: number, areaM2: number, travelS: number): void {
    const { classes } = this.#storm.surfaces;
    const key = (group + 1) * classes.length + at;
    let part = this.#grounds.get(key);
    if (part === undefined) this.#grounds.set(key, (part = { surface: classes[at], lags: [] }));
    addLag(part.lags, areaM2, travelS);
    this.#hold(group, (1 - passes) * areaM2 * (this.#storm.classRunOffMm[at] / 1000));
  }

  addRoof(group: number, part: CatchmentPart, heldM3: number): void {
    const parts = this.#roofParts.get(group);
    if (parts === undefined) this.#roofParts.set(group, [part]);
    else parts.push(part);
    this.#hold(group, heldM3);
  }

  #hold(group: number, volumeM3: number): void {
    if (volumeM3 !== 0) this.#heldM3.set(group, (this.#heldM3.get(group) ?? 0) + volumeM3);
  }

  groups(): CatchmentGroup[] {
    const parts = new Map<number, CatchmentPart[]>(this.#roofParts);
    for (const [key, { surface, lags }] of this.#grounds) {
      const group = Math.floor(key / this.#storm.surfaces.classes.length) - 1;
      const part = { surface, roof: null, byMinuteM2: filledIn(lags), barrelM3: 0 };
      parts.set(group, [...(parts.get(group) ?? []), part]);
    }
    return [...parts].map(([group, each]) => ({
      parts: each,
      heldBackM3: Math.max(0, this.#heldM3.get(group) ?? 0),
    }));
  }
}

/** Adds an area on its way for a time, shared between the minutes before and after so that the mean time stays. */
function addLag(lags: number[], areaM2: number, travelS: number): void {
  const minutes = Math.min(mostMinutes, travelS / lagS);
  const before = Math.floor(minutes);
  const after = minutes - before;
  lags[before] = (lags[before] ?? 0) + areaM2 * (1 - after);
  if (after > 0) lags[before + 1] = (lags[before + 1] ?? 0) + areaM2 * after;
}

function longestLagS(groups: readonly CatchmentGroup[]): number {
  let longest = 0;
  for (const { parts } of groups) {
    for (const { byMinuteM2 } of parts) {
      longest = Math.max(
        longest,
        byMinuteM2.findLastIndex((areaM2) => areaM2 > 0),
      );
    }
  }
  return longest * lagS;
}

function filledIn(lags: readonly (number | undefined)[]): Float64Array {
  return Float64Array.from({ length: lags.length }, (_, i) => lags[i] ?? 0);
}

/** Roofs whose water lands where it comes to the basin: area by where it lands, what barrels hold back with it. */
function addRoofs(
  storm: StormOnGround,
  way: WayToBasin,
  holding: Holding,
  collected: Collected,
): CatchmentRoof[] {
  const found: CatchmentRoof[] = [];
  for (const { outlet, volumeM3, barrelM3, landings } of storm.roofFlows) {
    const leavesM3 = volumeM3 - barrelM3;
    const id = outlet.downspout ?? outlet.roof;
    let areaM2 = 0;
    let lengths = 0;
    let times = 0;
    // where the storm brings nothing past the barrel, a larger one would go the ordinary way
    const ways =
      leavesM3 > 0
        ? landings.map(({ cells, volumeM3: landed }) => ({ cells, part: landed / leavesM3 }))
        : [{ cells: outlet.cells, part: 1 }];
    for (const { cells, part } of ways) {
      for (const cell of cells) {
        const share = way.share[cell];
        if (share === 0) continue;
        const comes = (share * part) / cells.length;
        const { group, passes } = holding.at(cell);
        const lags: number[] = [];
        addLag(lags, outlet.areaM2 * comes, way.runnelS[cell] / share);
        collected.addRoof(
          group,
          {
            surface: roofSurface,
            roof: id,
            byMinuteM2: filledIn(lags),
            barrelM3: outlet.barrelM3 * comes,
          },
          (1 - passes) * leavesM3 * comes,
        );
        areaM2 += outlet.areaM2 * comes;
        lengths += (outlet.areaM2 * comes * way.lengthM[cell]) / share;
        times += (outlet.areaM2 * comes * way.runnelS[cell]) / share;
      }
    }
    if (areaM2 > 0) {
      found.push({ id, areaM2, distanceM: lengths / areaM2, travelS: times / areaM2 });
    }
  }
  return found;
}

/** What sumps and drains bring, m3. */
function steadyWater(storm: StormOnGround, way: WayToBasin, holding: Holding): number {
  let sum = 0;
  for (const { cell, volumeM3 } of storm.sumps) {
    sum += volumeM3 * way.share[cell] * holding.at(cell).passes;
  }
  for (const { to, volumeM3 } of storm.flow.leaving) {
    if (typeof to === 'number') sum += volumeM3 * way.share[to] * holding.at(to).passes;
  }
  return sum;
}

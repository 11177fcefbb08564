import type { XY } from '../../frame/frame';
import { centroid, contains, distanceM, segmentCrossing } from '../../frame/shapes';
import { heightAt } from '../../ground/height-at';
import { RimDistance } from '../../ground/rim-distance';
import type { BasinAsBuilt } from './as-built';
import type { FinishedBasin } from './finished-basin';
import { layerMaterials } from './layer-materials';
import type { Layer } from './layers';

/** Ground along one straight line through a basin. Heights are metres over the rim, so most of them are negative. */
export interface BasinSection {
  readonly axis: 'along' | 'across';
  /** Compass points that the line runs from and to, `W` and `E` for example. */
  readonly ends: readonly [string, string];
  readonly from: XY;
  readonly to: XY;
  /** Places along the line, metres from its start, evenly spaced. */
  readonly stationM: Float64Array;
  readonly beforeM: Float64Array;
  readonly finishedM: Float64Array;
  /** Stretches of the line that lie inside the rim, from station to station; more than one where it bends back. */
  readonly insideM: readonly (readonly [number, number])[];
  /** The stretch of level floor about the deepest place; `null` where the sides meet. */
  readonly floorM: readonly [number, number] | null;
}

/** A layer as drawn. */
export interface DrawnLayer extends Layer {
  readonly letter: string;
}

/** What section drawings are made from; plain data, so that it crosses to and from a worker. */
export interface BasinSections {
  readonly along: BasinSection;
  readonly across: BasinSection;
  /** Over the rim. */
  readonly sillM: number;
  readonly lowestM: number;
  readonly pondingDepthM: number;
  readonly sideSlope: number;
  /** Top down. */
  readonly layers: readonly DrawnLayer[];
  readonly digDepthM: number;
  /** Below the ground as it was; `null` when not known. */
  readonly highWaterDepthM: number | null;
  readonly rockDepthM: number | null;
}

/** Outlines whose moments differ by less than this share are as long one way as another. */
const evenShare = 0.01;
/** How far apart stations are at most, metres. */
const everyM = 0.025;
/** Ground kept at either end of a section beyond what is shaped, metres. */
const beyondM = 0.6;

/** Two sections through the deepest place of a basin: along its main axis, and across that. */
export function basinSections(made: BasinAsBuilt): BasinSections {
  const { finished, layers, separations } = made;
  const { form } = finished;
  const turn = longDirection(finished.shape.rim);
  const depthOf = (below: 'water' | 'rock'): number | null =>
    separations.find((each) => each.below === below)?.depthM ?? null;
  return {
    along: section(finished, 'along', turn),
    // across is drawn left to right too
    across: section(finished, 'across', turn > 0 ? turn - Math.PI / 2 : turn + Math.PI / 2),
    sillM: form.overflowM - form.rimM,
    lowestM: form.floorM - form.rimM,
    pondingDepthM: form.pondingDepthM,
    sideSlope: form.sideSlope,
    layers: layers.layers
      .map((layer): DrawnLayer => ({ ...layer, letter: layerMaterials[layer.material].letter }))
      .reverse(),
    digDepthM: layers.digDepthM,
    highWaterDepthM: depthOf('water'),
    rockDepthM: depthOf('rock'),
  };
}

/**
 * Direction in which an outline is longest, radians from east, over -90 to 90 degrees: the main axis of its second
 * moments of area. West to east for one that is as long one way as another.
 */
function longDirection(ring: readonly XY[]): number {
  const [cx, cy] = centroid([ring]);
  let [xx, xy, yy] = [0, 0, 0];
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = [ring[i][0] - cx, ring[i][1] - cy];
    const [bx, by] = [ring[(i + 1) % ring.length][0] - cx, ring[(i + 1) % ring.length][1] - cy];
    const turn = ax * by - bx * ay;
    xx += turn * (ax * ax + ax * bx + bx * bx);
    yy += turn * (ay * ay + ay * by + by * by);
    xy += (turn * (2 * ax * ay + ax * by + bx * ay + 2 * bx * by)) / 2;
  }
  // a ring that turns clockwise has all three negative
  const sign = xx + yy < 0 ? -1 : 1;
  const [spread, skew] = [sign * (xx - yy), sign * 2 * xy];
  if (Math.hypot(spread, skew) < evenShare * Math.abs(xx + yy)) return 0;
  return Math.atan2(skew, spread) / 2;
}

function unit(turn: number): XY {
  return [Math.cos(turn), Math.sin(turn)];
}

/** Where a line through a place crosses a ring: distances along it from the place, ascending. */
function alongLine(ring: readonly XY[], [x, y]: XY, turn: number): number[] {
  const [east, north] = unit(turn);
  const farM = 2 * Math.max(...ring.map((corner) => distanceM(corner, [x, y]))) + 1;
  const from: XY = [x - farM * east, y - farM * north];
  const to: XY = [x + farM * east, y + farM * north];
  const found: number[] = [];
  for (let i = 0; i < ring.length; i++) {
    const at = segmentCrossing(from, to, ring[i], ring[(i + 1) % ring.length]);
    if (at !== undefined) found.push((at[0] - x) * east + (at[1] - y) * north);
  }
  return found.sort((a, b) => a - b);
}

function section(finished: FinishedBasin, axis: BasinSection['axis'], turn: number): BasinSection {
  const { shape, form, grid, before } = finished;
  const { deepestAt, rimM } = form;
  const [east, north] = unit(turn);
  const crossings = alongLine(shape.rim, deepestAt, turn);
  const startM = crossings[0] - form.reachM - beyondM;
  const endM = crossings[crossings.length - 1] + form.reachM + beyondM;
  const count = Math.ceil((endM - startM) / everyM) + 1;
  const at = (alongM: number): XY => [deepestAt[0] + alongM * east, deepestAt[1] + alongM * north];
  const stationM = Float64Array.from(
    { length: count },
    (_, i) => ((endM - startM) * i) / (count - 1),
  );
  const floor = floorStretch(finished, at);
  const heights = (of: typeof grid): Float64Array =>
    stationM.map((station) => heightAt(of, at(startM + station)) - rimM);
  return {
    axis,
    ends: [compassPoint(turn + Math.PI), compassPoint(turn)],
    from: at(startM),
    to: at(endM),
    stationM,
    beforeM: heights(before),
    finishedM: heights(grid),
    insideM: insideStretches(shape.rim, crossings, at).map(([a, b]) => [a - startM, b - startM]),
    floorM: floor === null ? null : [floor[0] - startM, floor[1] - startM],
  };
}

function insideStretches(
  rim: readonly XY[],
  crossings: readonly number[],
  at: (alongM: number) => XY,
): [number, number][] {
  const stretches: [number, number][] = [];
  for (let i = 1; i < crossings.length; i++) {
    const [from, to] = [crossings[i - 1], crossings[i]];
    if (to - from < 1e-6 || !contains([rim], at((from + to) / 2))) continue;
    const last = stretches.at(-1);
    // a line through a corner crosses both its edges
    if (last !== undefined && from - last[1] < 1e-6) last[1] = to;
    else stretches.push([from, to]);
  }
  return stretches;
}

/** Floors narrower than this are the line where sides meet, metres. */
const leastFloorM = 0.05;
const fineM = 1e-4;

/** How far the level floor runs either way along a line from the deepest place, metres; `null` where there is none. */
function floorStretch(
  { shape, form }: FinishedBasin,
  at: (alongM: number) => XY,
): readonly [number, number] | null {
  const distance = new RimDistance(shape.rim);
  const fromRimM = (form.rimM - form.floorM) * form.sideSlope;
  const isFloor = (alongM: number): boolean => {
    distance.look(...at(alongM));
    return distance.isInside && distance.awayM >= fromRimM - fineM;
  };
  const end = (way: 1 | -1): number => {
    let within = 0;
    while (isFloor(way * (within + everyM))) within += everyM;
    let beyond = within + everyM;
    while (beyond - within > fineM) {
      const middle = (within + beyond) / 2;
      if (isFloor(way * middle)) within = middle;
      else beyond = middle;
    }
    return way * within;
  };
  const stretch = [end(-1), end(1)] as const;
  return stretch[1] - stretch[0] > leastFloorM ? stretch : null;
}

const points = ['E', 'NE', 'N', 'NW', 'W', 'SW', 'S', 'SE'] as const;

/** Compass point of a direction, radians counter-clockwise from east. */
function compassPoint(turn: number): string {
  const eighth = Math.round(turn / (Math.PI / 4));
  return points[((eighth % 8) + 8) % 8];
}

import { lineString, simplify } from '@turf/turf';
import type { Frame, XY } from '../../frame/frame';
import { accumulate } from '../terrain/accumulate';
import type { FlowLine } from './drainage-result';
import { flowPath } from '../terrain/flow-path';
import { COLUMN_STEP, neighbourOffsets, NONE, ROW_STEP } from '../terrain/neighbours';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';

/** Lines are simplified by no more than this, metres. */
const simplifyM = 0.12;
/** A line is broken, so that it can be drawn wider, when what drains through it has grown by this factor. */
const widenBy = 1.6;

/**
 * The network of flow paths as lines to draw: each runs down the fall, from where at least an area drains through
 * to where it joins another line or leaves the map.
 *
 * Heads are found on the single-flow network; from each the drift-free path is traced until it comes to ground where
 * another line has run.
 *
 * @param leastM2 - open ground that must drain through a cell before a line starts there.
 */
export function flowLines(
  shape: ShapedGround,
  storm: Pick<StormOnGround, 'flow'>,
  frame: Frame,
  leastM2: number,
): FlowLine[] {
  const { ground, terrain, routing, cellM2 } = shape;
  const { grid } = ground;
  const { directions } = routing;
  const open = new Float64Array(directions.length);
  for (let cell = 0; cell < open.length; cell++)
    open[cell] = ground.sheltered[cell] === 1 ? 0 : cellM2;
  const area = accumulate(directions, grid.width, open, open);

  const { arrivesM3 } = storm.flow;

  const taken = new Uint8Array(directions.length);
  const lines: FlowLine[] = [];
  for (const head of heads(shape, area, leastM2)) {
    if (taken[head] === 1) continue;
    const { cells, points } = flowPath(routing, head);
    const path: XY[] = [];
    const drains: number[] = [];
    for (let i = 0; i < cells.length; i++) {
      const cell = cells[i];
      path.push([
        grid.westM + points[2 * i] * grid.cellM,
        grid.northM - points[2 * i + 1] * grid.cellM,
      ]);
      // The traced path may run beside the network's cell: what drains here is the most nearby, and never falls.
      drains.push(Math.max(drains[i - 1] ?? 0, mostAround(area, cell, terrain.width)));
      if (taken[cell] === 1 && i > 0) break;
    }
    if (path.length < 3) continue;
    for (let i = 0; i < path.length - 1; i++) taken[cells[i]] = 1;
    const { width } = terrain;
    const volumeAt = (i: number): number => mostAround(arrivesM3, cells[i], width);
    lines.push(...widening(smooth(path), drains, volumeAt, frame));
  }
  return lines;
}

/** Cells where a line starts, the highest first: enough drains through, but not through any cell that drains to it. */
function heads(
  { terrain, routing, ground }: ShapedGround,
  area: Float64Array,
  leastM2: number,
): number[] {
  const { directions } = routing;
  const offsets = neighbourOffsets(terrain.width);
  const fed = new Uint8Array(directions.length);
  for (let cell = 0; cell < directions.length; cell++) {
    if (area[cell] >= leastM2)
      fed[cell + offsets[directions[cell]]] |= directions[cell] < NONE ? 1 : 0;
  }
  const found: number[] = [];
  for (let cell = 0; cell < directions.length; cell++) {
    if (
      area[cell] >= leastM2 &&
      fed[cell] === 0 &&
      directions[cell] < NONE &&
      ground.obstacle[cell] === 0
    ) {
      found.push(cell);
    }
  }
  return found.sort((a, b) => terrain.filled[b] - terrain.filled[a]);
}

function mostAround(area: Float64Array, cell: number, width: number): number {
  let most = area[cell];
  for (let code = 0; code < 8; code++) {
    const near = cell + COLUMN_STEP[code] + ROW_STEP[code] * width;
    if (near >= 0 && near < area.length) most = Math.max(most, area[near]);
  }
  return most;
}

/** Takes the steps of the grid out of a path: a mean over five points, the ends kept. */
function smooth(path: readonly XY[]): XY[] {
  return path.map((at, i) => {
    const reach = Math.min(2, i, path.length - 1 - i);
    let x = 0;
    let y = 0;
    for (let k = i - reach; k <= i + reach; k++) {
      x += path[k][0];
      y += path[k][1];
    }
    return reach === 0 ? at : [x / (2 * reach + 1), y / (2 * reach + 1)];
  });
}

/** Cuts a path where it is to be drawn wider. */
function widening(
  path: readonly XY[],
  drains: readonly number[],
  volumeAt: (point: number) => number,
  frame: Frame,
): FlowLine[] {
  const lines: FlowLine[] = [];
  let start = 0;
  for (let i = 1; i < path.length; i++) {
    const last = i === path.length - 1;
    if (!last && drains[i] < drains[start] * widenBy) continue;
    const piece = path.slice(start, i + 1).map(([x, y]) => [x, y]);
    const { coordinates } = simplify(lineString(piece), {
      tolerance: simplifyM,
      highQuality: true,
    }).geometry;
    lines.push({
      points: coordinates.map(([x, y]) => frame.toLngLat([x, y])),
      area_m2: drains[i],
      volume_m3: volumeAt(i),
    });
    start = i;
  }
  return lines;
}

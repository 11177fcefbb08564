import { cellCentre, type Grid } from '../../elevation/grid';
import type { LngLat, XY } from '../../frame/frame';
import { distanceM, nearestOnSegment, perimeterM, type Ring } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { eventDuration } from '../../storm/event-duration';
import { hourS } from '../../units/units';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { elsewhere } from './ledger';
import { linePlaces, type AlongLine } from './line-places';
import { lotFlux, type CrossingPlace } from './lot-flux';
import { roofWaters } from './lot-water';
import { peakRates } from './peak-rates';

/** Where water crosses the line of the own lot, one way. */
export interface CrossingRow {
  readonly direction: 'in' | 'out';
  /** Lot on the other side; `null` for the street and all that is on no lot. */
  readonly lot: string | null;
  readonly name: string;
  /**
   * Over the ground; below it by drains; from a roof onto the ground beside; within water that stands over the line; or
   * over the edge of the elevation, where nobody knows what is beyond.
   */
  readonly by: 'ground' | 'drain' | 'roof' | 'standing-water' | 'edge-of-elevation';
  /** Middle of the stretch; `null` for what is spread over the rest of the line, or crosses at no place of its own. */
  readonly at: LngLat | null;
  /** The same as a distance along the line of the lot from its first corner, metres. */
  readonly along_m: number | null;
  /** Length of line over which it crosses; `null` where it crosses at no place of its own. */
  readonly width_m: number | null;
  readonly volume_m3: number;
  /** The most that can cross in an hour at the peak of the event, if nothing delays it; `null` where that is not known. */
  readonly peak_at_most_m3_per_h: number | null;
}

/**
 * Where water crosses the line of the own lot. Gross: water that winds over the line counts each time. All rows in less
 * all rows out are the ledger's run-on less what it passes on.
 */
export interface LineCrossings {
  readonly lot: string;
  readonly line_m: number;
  readonly in_m3: number;
  readonly out_m3: number;
  /** How long the event lasts, hours; taken to be so where `hours_known` is false. */
  readonly hours: number;
  readonly hours_known: boolean;
  /** By way and lot, the most water first. */
  readonly rows: readonly CrossingRow[];
}

/** A stretch is counted in parts as long as this, or as a cell where that is longer, metres. Our choice, no source. */
const partM = 1;

/** Crossings of one way, to one lot, by one means. */
interface Group {
  readonly direction: 'in' | 'out';
  readonly other: number;
  readonly by: CrossingRow['by'];
  readonly along: AlongLine[];
}

const meansOf = {
  ground: 'ground',
  pond: 'ground',
  conduit: 'drain',
  roof: 'roof',
  standing: 'standing-water',
} as const satisfies Record<CrossingPlace['by'], CrossingRow['by']>;

/**
 * Where, how much and how fast water crosses the line of a lot.
 *
 * @param lot - index of the lot in the ground's list.
 * Cost: O(n), and the cells at the line times the corners of the lot.
 */
export function lineCrossings(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  lot: number,
): LineCrossings {
  const { ground } = shape;
  const { lots, lotOf, grid } = ground;
  const owners = lots.length;
  const roofs = roofWaters(shape, storm, plan);
  const line = outlineOf(plan, lots[lot].id);
  const lineM = perimeterM(line);
  const peaks = new PeaksAt(shape, storm, plan);
  const groups = new Map<string, Group>();
  const add = (place: Pick<Group, 'direction' | 'other' | 'by'>, at: AlongLine): void => {
    const key = `${place.direction} ${place.other} ${place.by}`;
    const group = groups.get(key) ?? { ...place, along: [] };
    groups.set(key, group);
    group.along.push(at);
  };
  const flux = lotFlux(storm.flow, lotOf, owners, storm.depthM, roofs.displaced, (crossing) => {
    const { from, to, volumeM3, by } = crossing;
    if (from !== lot && to !== lot) return;
    const direction = from === lot ? 'out' : 'in';
    const other = from === lot ? to : from;
    add(
      { direction, other, by: meansOf[by] },
      { atM: alongM(line, grid, crossing), volumeM3, peakM3PerH: peaks.of(crossing) },
    );
  });
  const offDataM3 = flux.offDataM3[lot] + roofs.of(lot).offMapM3;
  if (offDataM3 > 0) {
    const at = { atM: 0, volumeM3: offDataM3, peakM3PerH: null };
    add({ direction: 'out', other: owners, by: 'edge-of-elevation' }, at);
  }
  const rows = [...groups.values()]
    .flatMap((group) => rowsOf(group, { line, lineM, grid, plan, lots }))
    .sort(byWay);
  const { hours, isKnown } = eventDuration(plan.plan.lotfall);
  const sumOf = (way: CrossingRow['direction']): number =>
    rows.reduce((sum, { direction, volume_m3 }) => (direction === way ? sum + volume_m3 : sum), 0);
  return {
    lot: lots[lot].id,
    line_m: lineM,
    in_m3: sumOf('in'),
    out_m3: sumOf('out'),
    hours,
    hours_known: isKnown,
    rows,
  };
}

/** What comes in first; of each way and means the most water first. */
function byWay(a: CrossingRow, b: CrossingRow): number {
  if (a.direction !== b.direction) return a.direction === 'in' ? -1 : 1;
  return b.volume_m3 - a.volume_m3;
}

interface Drawn {
  readonly line: Ring;
  readonly lineM: number;
  readonly grid: Grid;
  readonly plan: LocalPlan;
  readonly lots: ShapedGround['ground']['lots'];
}

function rowsOf(
  { direction, other, by, along }: Group,
  { line, lineM, grid, plan, lots }: Drawn,
): CrossingRow[] {
  const about = {
    direction,
    lot: lots.at(other)?.id ?? null,
    name: lots.at(other)?.name ?? elsewhere,
    by,
  };
  if (by === 'standing-water' || by === 'edge-of-elevation') {
    const volume_m3 = along.reduce((sum, { volumeM3 }) => sum + volumeM3, 0);
    const nowhere = { at: null, along_m: null, width_m: null, peak_at_most_m3_per_h: null };
    return [{ ...about, ...nowhere, volume_m3 }];
  }
  return linePlaces(along, lineM, Math.max(partM, grid.cellM)).map(
    ({ atM, widthM, volumeM3, peakM3PerH }): CrossingRow => ({
      ...about,
      at: atM === null ? null : plan.frame.toLngLat(pointAt(line, atM)),
      along_m: atM,
      width_m: widthM,
      volume_m3: volumeM3,
      peak_at_most_m3_per_h: peakM3PerH,
    }),
  );
}

/** How fast water can cross at a place. */
class PeaksAt {
  readonly #rates: Float64Array | null;
  readonly #storm: StormOnGround;

  constructor(shape: ShapedGround, storm: StormOnGround, plan: LocalPlan) {
    this.#storm = storm;
    this.#rates = peakRates(shape, storm, plan);
  }

  /** At most, m3/h; `null` where that is not known. */
  of({ by, cell, part }: CrossingPlace): number | null {
    if (by === 'standing' || this.#rates === null) return null;
    // below the ground it comes to more than one drain's end: what all drains at the place carry
    if (by === 'conduit') {
      return this.#storm.conduits
        .filter(({ conduit }) => conduit.inlet === cell)
        .reduce((sum, { conduit }) => sum + conduit.capacityM3PerS * hourS, 0);
    }
    return part * this.#rates[cell];
  }
}

function outlineOf({ of }: LocalPlan, id: string): Ring {
  return of.lot.find((lot) => lot.id === id)?.shape.rings[0] ?? [];
}

/** Where a crossing lies along the line: the point of it that is nearest to the middle between both cells. */
function alongM(line: Ring, grid: Grid, { cell, toCell }: CrossingPlace): number {
  if (cell === -1) return 0;
  const from = cellCentre(grid, cell);
  const to = cellCentre(grid, toCell);
  const middle: XY = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  let best = { awayM: Infinity, atM: 0 };
  let passedM = 0;
  line.forEach((corner, i) => {
    const next = line[(i + 1) % line.length];
    const near = nearestOnSegment(middle, corner, next);
    const awayM = distanceM(middle, near);
    if (awayM < best.awayM) best = { awayM, atM: passedM + distanceM(corner, near) };
    passedM += distanceM(corner, next);
  });
  return best.atM;
}

/** The point of a closed line at a distance from its first corner. */
function pointAt(line: Ring, atM: number): XY {
  let leftM = atM;
  for (let i = 0; i < line.length; i++) {
    const [from, to] = [line[i], line[(i + 1) % line.length]];
    const longM = distanceM(from, to);
    if (leftM <= longM && longM > 0) {
      const t = leftM / longM;
      return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    }
    leftM -= longM;
  }
  return line[0];
}

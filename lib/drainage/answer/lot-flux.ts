import type { StormFlow } from '../storm/kept-water';
import { LEAVES, NONE, neighbourOffsets } from '../terrain/neighbours';
import { Receivers } from '../terrain/receivers';
import { OwnerSums } from './owner-sums';
import { standingByOwner } from './standing-by-owner';

/** Roof water that enters the ground on another owner's side of the lot line than its roof stands. */
export interface Displaced {
  readonly cell: number;
  readonly volumeM3: number;
  /** Owner of the ground below the roof: a lot by index, the number of lots for all other ground. */
  readonly roofOwner: number;
}

/**
 * What crosses the line between two owners, each way, m3. Owners are lots by index, the number of lots for all other ground.
 *
 * Water that runs along a line winds over it from cell to cell. Gross counts it each time. Without winding, what comes over the
 * line into a cell and what goes back over it out of that cell are set off against each other, as seen from either side of the
 * line, and the two halved: water that crosses here and comes back further on counts both ways. The difference between the two
 * ways is the same.
 */
export interface LineFlux {
  readonly a: number;
  /** Always more than `a`. */
  readonly b: number;
  /** Without winding. */
  readonly aToBM3: number;
  readonly bToAM3: number;
  readonly aToBGrossM3: number;
  readonly bToAGrossM3: number;
}

/** Where a storm's water is put down, crosses lot lines and ends, of all lots at once. By owner, m3. */
export interface LotFlux {
  readonly lines: readonly LineFlux[];
  /** What runs off an owner's own ground and roofs onto the ground. */
  readonly putDownM3: Float64Array;
  /** Stands when the storm is over. */
  readonly standsM3: Float64Array;
  readonly sewerM3: Float64Array;
  /** Soaks into what lies below basins. */
  readonly soilM3: Float64Array;
  /** Leaves the elevation data. */
  readonly offDataM3: Float64Array;
}

/** Water that crosses a line between two owners at one place, one way. */
export interface CrossingPlace {
  readonly from: number;
  readonly to: number;
  readonly volumeM3: number;
  /**
   * Over the ground, within or out of a pond, by a conduit below the ground, or from a roof onto other ground. What
   * evens out within standing water crosses at no place of its own.
   */
  readonly by: 'ground' | 'pond' | 'conduit' | 'roof' | 'standing';
  /** Cell that it comes from, and cell that it goes to; the same where it crosses within one. -1 for none. */
  readonly cell: number;
  readonly toCell: number;
  /** Of what comes to `cell`, this part goes here; 1 but over the ground. */
  readonly part: number;
}

/**
 * What crosses each line between two owners, in one pass over the flow of a storm.
 *
 * Between cells it is what runs over the link between them. A pond is one water: what comes to it on one owner's ground
 * leaves it in the same mixture for the owner at its way out, and stays in it where its water stands; so does what conduits
 * take out of it. For each owner
 * `putDown + from others = stands + sewer + soil + off data + to others`, to rounding, and one record of a line serves both sides.
 *
 * @param ownerOf - index of the lot that each cell belongs to, -1 for none.
 * @param owners - number of lots.
 * @param depthM - standing water; its shares tell where kept water lies.
 * @param displaced - roof water that is put down on another owner's ground: it crosses the line there and then.
 * @param onCross - is told each crossing; all of one line and way add up to what the line has, gross.
 * Cost: O(n), whatever the number of lots, and the pairs of owners that share a pond.
 */
export function lotFlux(
  flow: StormFlow,
  ownerOf: Int32Array,
  owners: number,
  depthM: Float32Array,
  displaced: readonly Displaced[] = [],
  onCross?: (crossing: CrossingPlace) => void,
): LotFlux {
  const sweep = new FluxSweep(flow, ownerOf, owners, onCross);
  sweep.putDown(displaced);
  sweep.run();
  sweep.keep(depthM);
  return sweep.found();
}

class FluxSweep {
  readonly #flow: StormFlow;
  readonly #ownerOf: Int32Array;
  readonly #owners: number;
  /** By `from * (owners + 1) + to`, gross and without winding. */
  readonly #gross = new Map<number, number>();
  readonly #plain = new Map<number, number>();
  readonly #putDownM3: Float64Array;
  readonly #standsM3: Float64Array;
  readonly #sewerM3: Float64Array;
  readonly #soilM3: Float64Array;
  readonly #offDataM3: Float64Array;
  /** Of what is kept in each keeper, what came to it on whose ground. */
  readonly #kept: OwnerSums;
  readonly #onCross: ((crossing: CrossingPlace) => void) | undefined;

  constructor(
    flow: StormFlow,
    ownerOf: Int32Array,
    owners: number,
    onCross?: (crossing: CrossingPlace) => void,
  ) {
    this.#onCross = onCross;
    this.#flow = flow;
    this.#ownerOf = ownerOf;
    this.#owners = owners;
    this.#putDownM3 = new Float64Array(owners + 1);
    this.#standsM3 = new Float64Array(owners + 1);
    this.#sewerM3 = new Float64Array(owners + 1);
    this.#soilM3 = new Float64Array(owners + 1);
    this.#offDataM3 = new Float64Array(owners + 1);
    this.#kept = new OwnerSums(flow.keepers);
  }

  #owner(cell: number): number {
    const owner = this.#ownerOf[cell];
    return owner === -1 ? this.#owners : owner;
  }

  #cross(
    from: number,
    to: number,
    volumeM3: number,
    by: CrossingPlace['by'],
    cell: number,
    toCell: number,
    part = 1,
  ): void {
    if (from === to || volumeM3 === 0) return;
    this.#onCross?.({ from, to, volumeM3, by, cell, toCell, part });
    this.#add(this.#gross, from, to, volumeM3);
    this.#add(this.#plain, from, to, volumeM3);
  }

  #add(sums: Map<number, number>, from: number, to: number, volumeM3: number): void {
    const key = from * (this.#owners + 1) + to;
    sums.set(key, (sums.get(key) ?? 0) + volumeM3);
  }

  putDown(displaced: readonly Displaced[]): void {
    const { putDownM3 } = this.#flow;
    for (let cell = 0; cell < putDownM3.length; cell++) {
      if (putDownM3[cell] > 0) this.#putDownM3[this.#owner(cell)] += putDownM3[cell];
    }
    for (const { cell, volumeM3, roofOwner } of displaced) {
      const owner = this.#owner(cell);
      this.#putDownM3[owner] -= volumeM3;
      this.#putDownM3[roofOwner] += volumeM3;
      this.#cross(roofOwner, owner, volumeM3, 'roof', cell, cell);
    }
  }

  run(): void {
    const { routing, arrivesM3 } = this.#flow;
    const { ponds, terrain } = routing;
    const { receiver } = terrain;
    const ownerOf = this.#ownerOf;
    const receivers = new Receivers(routing);
    const offsets = neighbourOffsets(terrain.width);
    const inPond = new OwnerSums(ponds.count + 1);
    // What goes out of each cell over a line less what comes in over it, by who is on the other side.
    const overLine = new OwnerSums(arrivesM3.length);
    for (let cell = 0; cell < arrivesM3.length; cell++) {
      const volumeM3 = arrivesM3[cell];
      if (!(volumeM3 > 0)) continue;
      const pond = ponds.of[cell];
      if (pond !== 0) {
        inPond.add(pond, this.#owner(cell), volumeM3);
        continue;
      }
      if (receiver[cell] === LEAVES) {
        this.#offDataM3[this.#owner(cell)] += volumeM3;
        continue;
      }
      if (receiver[cell] >= NONE) continue;
      const own = ownerOf[cell];
      let isAtLine = false;
      for (let d = 0; d < 8; d++) if (ownerOf[cell + offsets[d]] !== own) isAtLine = true;
      if (!isAtLine) continue;
      const from = this.#owner(cell);
      const count = receivers.of(cell);
      for (let k = 0; k < count; k++) {
        const to = this.#owner(receivers.cells[k]);
        if (to === from) continue;
        const linkM3 = volumeM3 * receivers.shares[k];
        this.#add(this.#gross, from, to, linkM3);
        this.#onCross?.({
          from,
          to,
          volumeM3: linkM3,
          by: 'ground',
          cell,
          toCell: receivers.cells[k],
          part: receivers.shares[k],
        });
        overLine.add(cell, to, linkM3);
        overLine.add(receivers.cells[k], from, -linkM3);
      }
    }
    this.#setOff(overLine);
    this.#passPonds(inPond, offsets);
  }

  /** Half of what is left in each cell on either side of a line. */
  #setOff(overLine: OwnerSums): void {
    for (let cell = 0; cell < this.#ownerOf.length; cell++) {
      overLine.each(cell, (other, outM3) => {
        const own = this.#owner(cell);
        if (outM3 > 0) this.#add(this.#plain, own, other, outM3 / 2);
        else if (outM3 < 0) this.#add(this.#plain, other, own, -outM3 / 2);
      });
    }
  }

  #passPonds(inPond: OwnerSums, offsets: Int32Array): void {
    const { routing, pondWaterM3, keeperOfPond } = this.#flow;
    const { ponds } = routing;
    const { arrived, passed } = pondWaterM3;
    for (let pond = 1; pond <= ponds.count; pond++) {
      if (!(arrived[pond] > 0)) continue;
      const part = passed[pond] / arrived[pond];
      const exitCell = part > 0 ? this.#exitCell(pond, offsets) : -1;
      const exit = part > 0 ? this.#owner(exitCell) : -1;
      const keeper = keeperOfPond[pond];
      inPond.each(pond, (owner, volumeM3) => {
        if (part > 0) this.#cross(owner, exit, volumeM3 * part, 'pond', exitCell, exitCell);
        if (keeper !== -1) this.#kept.add(keeper, owner, volumeM3 * (1 - part));
      });
      if (part > 0) {
        const to = ponds.to[pond];
        this.#cross(exit, this.#owner(to), passed[pond], 'pond', exitCell, to);
      }
    }
  }

  /** Where a pond's water lies when it lets on. */
  #exitCell(pond: number, offsets: Int32Array): number {
    const { of, to } = this.#flow.routing.ponds;
    for (let d = 0; d < 8; d++) {
      const cell = to[pond] + offsets[d];
      if (of[cell] === pond) return cell;
    }
    return to[pond];
  }

  /** What is kept stands, or leaves by conduits. */
  keep(depthM: Float32Array): void {
    const { keepers, keptM3, leaving } = this.#flow;
    const out = standingByOwner(this.#flow, (cell) => this.#owner(cell), depthM);
    for (let keeper = 0; keeper < keepers; keeper++) {
      out.each(keeper, (owner, volumeM3) => {
        this.#standsM3[owner] += volumeM3;
      });
    }
    for (const { keeper, from, to, volumeM3 } of leaving) {
      const owner = this.#owner(from);
      out.add(keeper, owner, volumeM3);
      if (to === 'storm-sewer') this.#sewerM3[owner] += volumeM3;
      else if (to === 'soil') this.#soilM3[owner] += volumeM3;
      else if (to === 'off-map') this.#offDataM3[owner] += volumeM3;
      else this.#cross(owner, this.#owner(to), volumeM3, 'conduit', from, to);
    }
    for (let keeper = 0; keeper < keepers; keeper++) {
      if (!(keptM3[keeper] > 0)) continue;
      this.#kept.each(keeper, (from, cameM3) => {
        out.each(keeper, (to, goesM3) => {
          this.#cross(from, to, (cameM3 * goesM3) / keptM3[keeper], 'standing', -1, -1);
        });
      });
    }
  }

  found(): LotFlux {
    const places = this.#owners + 1;
    const lines = new Map<number, LineFlux>();
    const volume = (sums: Map<number, number>, from: number, to: number): number =>
      sums.get(from * places + to) ?? 0;
    // Whatever crosses at all is in the gross sums.
    for (const key of this.#gross.keys()) {
      const from = Math.floor(key / places);
      const to = key - from * places;
      const [a, b] = from < to ? [from, to] : [to, from];
      lines.set(a * places + b, {
        a,
        b,
        aToBM3: volume(this.#plain, a, b),
        bToAM3: volume(this.#plain, b, a),
        aToBGrossM3: volume(this.#gross, a, b),
        bToAGrossM3: volume(this.#gross, b, a),
      });
    }
    return {
      lines: [...lines.values()].sort((p, q) => p.a - q.a || p.b - q.b),
      putDownM3: this.#putDownM3,
      standsM3: this.#standsM3,
      sewerM3: this.#sewerM3,
      soilM3: this.#soilM3,
      offDataM3: this.#offDataM3,
    };
  }
}

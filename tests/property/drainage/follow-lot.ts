import type { Displaced } from '../../../lib/drainage/answer/lot-flux';
import { keptOn, type Leaving, type StormFlow } from '../../../lib/drainage/storm/kept-water';
import { LEAVES } from '../../../lib/drainage/terrain/neighbours';
import { Receivers } from '../../../lib/drainage/terrain/receivers';
import { stormShare } from '../../../lib/drainage/storm/storm-share';

/** Water that crossed one lot's line. Owners are lots by index, and `owners` itself for all that is on no lot. */
export interface Crossings {
  /** First entry of water that was never on the lot, by the owner it came from, m3; `owners + 1` values. */
  readonly runOnM3: Float64Array;
  /** Last exit of water, by the owner it went to, m3; `owners + 1` values. */
  readonly passedOnM3: Float64Array;
  /** Water that stands on the lot at the end, m3. */
  readonly storedM3: number;
  /** Water of the lot that drains take into the storm sewer from its ground, m3. */
  readonly sewerM3: number;
  /** Water of the lot that soaks into the soil below basins, m3. */
  readonly soilM3: number;
}

/**
 * Follows every cubic metre over one lot's line: in, out, and what stays.
 *
 * Water that has been on the lot is told from water that has not. Water that leaves and comes back is
 * counted as never having left, so that a path which winds along the line is not counted many times; water that
 * leaves for good is put down to the owner of the ground it stepped onto last. In a keeper all water is mixed:
 * what it keeps on the lot has come on to it, what it keeps outside has left, and what leaves it carries the mixture on.
 *
 * Two sweeps tell it: one against the flow for the part of each cell's water that comes to the lot, one with the flow for
 * the part that has never been there. Over each link between cells of two owners, what has never been on the lot runs on
 * to it, and what will not come back is passed on.
 * By construction run-off of the lot + run-on = stored + passed on + sewer + soil, to rounding.
 *
 * @param ownerOf - index of the lot that each cell belongs to, -1 for none.
 * @param lot - index of the lot looked at.
 * @param owners - number of lots.
 * @param depthM - standing water; its shares tell where kept water lies.
 * @param displaced - roof water that is put down on the other side of the line; it crosses there and then.
 * Cost: O(n) for each lot, and as often again as water that is led on comes to be led on again.
 */
export function followLot(
  flow: StormFlow,
  ownerOf: Int32Array,
  lot: number,
  owners: number,
  depthM: Float32Array,
  displaced: readonly Displaced[] = [],
): Crossings {
  const isLot = Uint8Array.from(ownerOf, (owner) => (owner === lot ? 1 : 0));
  const line: LotLine = {
    lot,
    owners,
    owner: (cell) => (ownerOf[cell] === -1 ? owners : ownerOf[cell]),
    returns: stormShare(flow, depthM, isLot),
    held: keptOn(
      flow,
      depthM,
      (cell) => (ownerOf[cell] === -1 ? owners : ownerOf[cell]),
      owners + 1,
    ),
  };
  // What is led to a cell has been on the lot in part: how much shows when what it came from has been followed.
  let led = new Float64Array(flow.leaving.length);
  for (;;) {
    const following = new Following(flow, line, displaced, led);
    following.run();
    const change = following.neverLed.reduce(
      (most, volume, k) => Math.max(most, Math.abs(volume - led[k])),
      0,
    );
    if (change <= 1e-12) return following.crossings();
    led = following.neverLed;
  }
}

interface LotLine {
  readonly lot: number;
  readonly owners: number;
  owner(cell: number): number;
  /** Part of each cell's water that comes to the lot. */
  readonly returns: Float64Array;
  /** What each keeper has standing with each owner, m3. */
  readonly held: Float64Array;
}

/** One sweep with the flow. */
class Following {
  /** Of what leaves each keeper for a cell, the part that has not been on the lot when it gets there, m3. */
  readonly neverLed: Float64Array<ArrayBuffer>;
  readonly #runOnM3: Float64Array;
  readonly #passedOnM3: Float64Array;
  #storedM3 = 0;
  #sewerM3 = 0;
  #soilM3 = 0;
  /** Of what arrives in each cell, each pond, each keeper, the part that has never been on the lot, m3. */
  readonly #never: Float64Array;
  readonly #neverInPond: Float64Array;
  readonly #neverKept: Float64Array;
  /** Of what comes to each pond and is kept, what came to it on the lot's own ground, m3. */
  readonly #hereInPond: Float64Array;
  readonly #hereKept: Float64Array;
  readonly #receivers: Receivers;
  readonly #flow: StormFlow;
  readonly #line: LotLine;
  readonly #displaced: readonly Displaced[];
  readonly #led: Float64Array;

  constructor(flow: StormFlow, line: LotLine, displaced: readonly Displaced[], led: Float64Array) {
    this.#flow = flow;
    this.#line = line;
    this.#displaced = displaced;
    this.#led = led;
    const { routing, keepers, leaving, arrivesM3 } = flow;
    this.#receivers = new Receivers(routing);
    this.neverLed = new Float64Array(leaving.length);
    this.#runOnM3 = new Float64Array(line.owners + 1);
    this.#passedOnM3 = new Float64Array(line.owners + 1);
    this.#never = new Float64Array(arrivesM3.length);
    this.#neverInPond = new Float64Array(routing.ponds.count + 1);
    this.#hereInPond = new Float64Array(routing.ponds.count + 1);
    this.#neverKept = new Float64Array(keepers);
    this.#hereKept = new Float64Array(keepers);
  }

  crossings(): Crossings {
    const runOnM3 = this.#runOnM3;
    const passedOnM3 = this.#passedOnM3;
    const storedM3 = this.#storedM3;
    const sewerM3 = this.#sewerM3;
    const soilM3 = this.#soilM3;
    return { runOnM3, passedOnM3, storedM3, sewerM3, soilM3 };
  }

  run(): void {
    const flow = this.#flow;
    const line = this.#line;
    const never = this.#never;
    const { routing, arrivesM3, leaving } = flow;
    this.#putDown();
    const { upstreamFirst, ponds, terrain } = routing;
    for (let at = 0; at < upstreamFirst.length; at++) {
      const cell = upstreamFirst[at];
      const pond = ponds.of[cell];
      if (pond !== 0) {
        this.#neverInPond[pond] += never[cell];
        if (line.owner(cell) === line.lot) this.#hereInPond[pond] += arrivesM3[cell];
        if (ponds.last[pond] === cell) this.#passPond(pond, ponds.to[pond]);
      } else if (terrain.receiver[cell] === LEAVES) {
        if (line.owner(cell) === line.lot) this.#passedOnM3[line.owners] += arrivesM3[cell];
      } else {
        this.#passCell(cell, arrivesM3[cell], never[cell]);
      }
    }
    for (let pond = 1; pond <= ponds.count; pond++) this.#keep(pond);
    for (let keeper = 0; keeper < flow.keepers; keeper++) this.#leaveStanding(keeper);
    leaving.forEach((each, k) => {
      this.#leave(each, k);
    });
  }

  /** What is put down off the lot has never been on it. */
  #putDown(): void {
    const flow = this.#flow;
    const line = this.#line;
    const never = this.#never;
    const { putDownM3, leaving } = flow;
    for (let cell = 0; cell < never.length; cell++) {
      if (line.owner(cell) !== line.lot) never[cell] = putDownM3[cell];
    }
    leaving.forEach(({ to }, k) => {
      if (typeof to === 'number' && line.owner(to) !== line.lot) never[to] += this.#led[k];
    });
    for (const { cell, volumeM3, roofOwner } of this.#displaced) {
      if (line.owner(cell) === line.lot) this.#runOnM3[roofOwner] += volumeM3;
      else if (roofOwner === line.lot) {
        never[cell] -= volumeM3;
        this.#passedOnM3[line.owner(cell)] += volumeM3 * (1 - line.returns[cell]);
      }
    }
  }

  /** Water on its way from a cell to its receivers, over the line where they lie beyond it. */
  #passCell(cell: number, volumeM3: number, neverM3: number): void {
    const receivers = this.#receivers;
    const line = this.#line;
    const never = this.#never;
    const count = receivers.of(cell);
    const isHere = line.owner(cell) === line.lot;
    for (let k = 0; k < count; k++) {
      const next = receivers.cells[k];
      const share = receivers.shares[k];
      const isNextHere = line.owner(next) === line.lot;
      if (isHere && !isNextHere) {
        this.#passedOnM3[line.owner(next)] += volumeM3 * share * (1 - line.returns[next]);
      } else if (!isHere && isNextHere) this.#runOnM3[line.owner(cell)] += neverM3 * share;
      else if (!isHere) never[next] += neverM3 * share;
    }
  }

  #passPond(pond: number, to: number): void {
    const { arrived, passed } = this.#flow.pondWaterM3;
    if (!(passed[pond] > 0)) return;
    const part = passed[pond] / arrived[pond];
    const neverM3 = part * this.#neverInPond[pond];
    const owner = this.#line.owner(to);
    if (owner === this.#line.lot) {
      this.#runOnM3[this.#outsideOf(this.#flow.keeperOfPond[pond])] += neverM3;
    } else {
      this.#never[to] += neverM3;
      const hereM3 = part * this.#hereInPond[pond];
      this.#passedOnM3[owner] += hereM3 * (1 - this.#line.returns[to]);
    }
  }

  #keep(pond: number): void {
    const { arrived, passed } = this.#flow.pondWaterM3;
    const keeper = this.#flow.keeperOfPond[pond];
    if (keeper === -1) return;
    const part = 1 - passed[pond] / arrived[pond];
    this.#neverKept[keeper] += part * this.#neverInPond[pond];
    this.#hereKept[keeper] += part * this.#hereInPond[pond];
  }

  #leaveStanding(keeper: number): void {
    const line = this.#line;
    const flow = this.#flow;
    const whole = flow.keptM3[keeper];
    if (!(whole > 0)) return;
    for (let owner = 0; owner <= line.owners; owner++) {
      const heldM3 = line.held[keeper * (line.owners + 1) + owner];
      if (heldM3 === 0) continue;
      if (owner === line.lot) {
        this.#storedM3 += heldM3;
        this.#runOnM3[this.#outsideOf(keeper)] += (heldM3 / whole) * this.#neverKept[keeper];
      } else {
        this.#passedOnM3[owner] += (heldM3 / whole) * this.#hereKept[keeper];
      }
    }
  }

  #leave({ keeper, from, to, volumeM3 }: Leaving, k: number): void {
    const line = this.#line;
    const flow = this.#flow;
    const part = volumeM3 / flow.keptM3[keeper];
    const neverM3 = part * this.#neverKept[keeper];
    const isFromHere = line.owner(from) === line.lot;
    const returns = typeof to === 'number' ? line.returns[to] : 0;
    if (!isFromHere) {
      const hereM3 = part * this.#hereKept[keeper];
      this.#passedOnM3[line.owner(from)] += hereM3 * (1 - returns);
      if (typeof to !== 'number') return;
      if (line.owner(to) === line.lot) this.#runOnM3[line.owner(from)] += neverM3;
      else this.neverLed[k] = neverM3;
      return;
    }
    this.#runOnM3[this.#outsideOf(keeper)] += neverM3;
    if (to === 'storm-sewer') this.#sewerM3 += volumeM3;
    else if (to === 'soil') this.#soilM3 += volumeM3;
    else if (to === 'off-map') this.#passedOnM3[line.owners] += volumeM3;
    else if (line.owner(to) !== line.lot) {
      this.#passedOnM3[line.owner(to)] += volumeM3 * (1 - returns);
    }
  }

  /** The owner that a keeper's outside water is put down to: the one on whose ground most of it stands. */
  #outsideOf(keeper: number): number {
    const line = this.#line;
    const places = line.owners + 1;
    let most = line.owners;
    if (keeper === -1) return most;
    for (let place = 0; place < places; place++) {
      if (place === line.lot) continue;
      if (line.held[keeper * places + place] > line.held[keeper * places + most]) most = place;
    }
    return most;
  }
}

import type { StormFlow } from '../storm/kept-water';
import { LEAVES } from '../terrain/neighbours';
import { Receivers } from '../terrain/receivers';
import type { Displaced } from './lot-flux';
import { OwnerSums } from './owner-sums';
import { standingByOwner } from './standing-by-owner';

/** Where some owner's water ends. */
export type WaterEnd = number | 'storm-sewer' | 'soil' | 'off-map';

/** Water that fell on the ground or roofs of one owner and ended at one place, whatever it crossed on the way, m3. */
export interface OriginToEnd {
  /** A lot by index, the number of lots for all other ground. */
  readonly origin: number;
  /** The owner on whose ground it stands, or what it left by. */
  readonly end: WaterEnd;
  readonly volumeM3: number;
}

/** Water that is led on comes round again less each time; after so many rounds next to nothing is left. */
const mostRounds = 60;
/** Led water that differs by less than this from round to round is settled, m3. */
const settledM3 = 1e-9;

/**
 * Where each owner's water ends: one pass down the order of the flow, in which each cell's water keeps whose it was. Water in a
 * pond, and in what keeps it, is mixed.
 *
 * For each owner its rows add up to what it puts down; for each end they add up to what `lotFlux` has there.
 *
 * @param ownerOf - index of the lot of each cell, -1 for none. @param owners - number of lots.
 * @param depthM - standing water; its shares tell where kept water lies.
 * Cost: the cells times the owners whose water mixes in each, and as often again as water that is led on comes to be led on
 * again.
 */
export function originToEnd(
  flow: StormFlow,
  ownerOf: Int32Array,
  owners: number,
  depthM: Float32Array,
  displaced: readonly Displaced[] = [],
): OriginToEnd[] {
  const owner = (cell: number): number => (ownerOf[cell] === -1 ? owners : ownerOf[cell]);
  let led: ReadonlyMap<number, number>[] = flow.leaving.map(() => new Map());
  for (let round = 0; ; round++) {
    const sums = new EndSums(owners);
    const water = putDown(flow, owner, displaced);
    flow.leaving.forEach(({ to }, k) => {
      if (typeof to === 'number')
        led[k].forEach((volume, from) => {
          water.add(to, from, volume);
        });
    });
    const kept = runDown(flow, water, sums);
    const next = flow.leaving.map(({ keeper, to, volumeM3 }) => {
      const parts = new Map<number, number>();
      const part = volumeM3 / flow.keptM3[keeper];
      kept.each(keeper, (from, cameM3) => {
        if (typeof to === 'number') parts.set(from, cameM3 * part);
        else sums.add(from, to, cameM3 * part);
      });
      return parts;
    });
    const change = next.reduce((most, parts, k) => {
      let differs = most;
      parts.forEach((volume, from) => {
        differs = Math.max(differs, Math.abs(volume - (led[k].get(from) ?? 0)));
      });
      return differs;
    }, 0);
    led = next;
    if (change > settledM3 && round < mostRounds) continue;
    const stands = standingByOwner(flow, owner, depthM);
    for (let keeper = 0; keeper < flow.keepers; keeper++) {
      if (!(flow.keptM3[keeper] > 0)) continue;
      kept.each(keeper, (from, cameM3) => {
        stands.each(keeper, (to, standsM3) => {
          sums.add(from, to, (cameM3 * standsM3) / flow.keptM3[keeper]);
        });
      });
    }
    return sums.rows();
  }
}

function putDown(
  { putDownM3 }: StormFlow,
  owner: (cell: number) => number,
  displaced: readonly Displaced[],
): OwnerSums {
  const water = new OwnerSums(putDownM3.length);
  for (let cell = 0; cell < putDownM3.length; cell++) {
    if (putDownM3[cell] > 0) water.add(cell, owner(cell), putDownM3[cell]);
  }
  for (const { cell, volumeM3, roofOwner } of displaced) {
    water.add(cell, owner(cell), -volumeM3);
    water.add(cell, roofOwner, volumeM3);
  }
  return water;
}

/** @param water - by cell and owner; used up. @returns what each keeper gets of whose. */
function runDown(flow: StormFlow, water: OwnerSums, sums: EndSums): OwnerSums {
  const { routing, pondWaterM3, keeperOfPond, keepers } = flow;
  const { upstreamFirst, ponds, terrain } = routing;
  const { arrived, passed } = pondWaterM3;
  const receivers = new Receivers(routing);
  const inPond = new OwnerSums(ponds.count + 1);
  const kept = new OwnerSums(keepers);
  for (let at = 0; at < upstreamFirst.length; at++) {
    const cell = upstreamFirst[at];
    const pond = ponds.of[cell];
    if (pond !== 0) {
      water.take(cell, (from, volumeM3) => {
        inPond.add(pond, from, volumeM3);
      });
      if (ponds.last[pond] === cell && passed[pond] > 0) {
        const part = passed[pond] / arrived[pond];
        inPond.each(pond, (from, volumeM3) => {
          water.add(ponds.to[pond], from, volumeM3 * part);
        });
      }
    } else if (terrain.receiver[cell] === LEAVES) {
      water.take(cell, (from, volumeM3) => {
        sums.add(from, 'off-map', volumeM3);
      });
    } else {
      const count = receivers.of(cell);
      water.take(cell, (from, volumeM3) => {
        for (let k = 0; k < count; k++) {
          water.add(receivers.cells[k], from, volumeM3 * receivers.shares[k]);
        }
      });
    }
  }
  for (let pond = 1; pond <= ponds.count; pond++) {
    const keeper = keeperOfPond[pond];
    if (keeper === -1) continue;
    const part = 1 - passed[pond] / arrived[pond];
    inPond.each(pond, (from, volumeM3) => {
      kept.add(keeper, from, volumeM3 * part);
    });
  }
  return kept;
}

/** Volumes by origin and end. */
class EndSums {
  readonly #byOrigin: readonly Map<WaterEnd, number>[];

  constructor(owners: number) {
    this.#byOrigin = Array.from({ length: owners + 1 }, () => new Map<WaterEnd, number>());
  }

  add(origin: number, end: WaterEnd, volumeM3: number): void {
    const ends = this.#byOrigin[origin];
    ends.set(end, (ends.get(end) ?? 0) + volumeM3);
  }

  rows(): OriginToEnd[] {
    return this.#byOrigin.flatMap((ends, origin) =>
      [...ends].map(([end, volumeM3]) => ({ origin, end, volumeM3 })),
    );
  }
}

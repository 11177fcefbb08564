import type { LocalPlan } from '../../plan/local-plan';
import { openAreasM2, ownerOfRoof } from '../storm/lot-areas';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import type { Displaced } from './lot-flux';

/** Rain on a lot's open ground, and what of it does not run off, m3. */
export interface OpenWater {
  readonly rainM3: number;
  readonly soakedM3: number;
}

/** What becomes of rain on the roofs of one owner, m3; what else runs off is put down on the ground. */
export interface RoofsOfOwner extends OpenWater {
  readonly barrelM3: number;
  readonly sewerM3: number;
  readonly offMapM3: number;
}

/** Rain on roofs by the lots that they stand on. */
export interface RoofWaters {
  /** @param owner - index of a lot, or the number of lots for all that stand on none. */
  of(owner: number): RoofsOfOwner;
  /** What of it is put down on another owner's ground. */
  readonly displaced: readonly Displaced[];
}

const nothing: RoofsOfOwner = { rainM3: 0, soakedM3: 0, barrelM3: 0, sewerM3: 0, offMapM3: 0 };

/** Rain on the open ground of a lot. Cost: the lot's cells. */
export function openWater({ ground }: ShapedGround, storm: StormOnGround, lot: number): OpenWater {
  const { rainMm, surfaces, classRunOffMm } = storm;
  let rainM3 = 0;
  let soakedM3 = 0;
  openAreasM2(ground, surfaces.classOf, surfaces.classes.length, lot).forEach((areaM2, at) => {
    rainM3 += (rainMm / 1000) * areaM2;
    soakedM3 += ((rainMm - classRunOffMm[at]) / 1000) * areaM2;
  });
  return { rainM3, soakedM3 };
}

/** Rain on all roofs of a plan. Cost: their outlets and the cells these put water down on. */
export function roofWaters(
  { ground }: ShapedGround,
  { rainMm, roofFlows }: StormOnGround,
  plan: LocalPlan,
): RoofWaters {
  const owners = ground.lots.length;
  const sums = new Map<number, RoofsOfOwner>();
  const displaced: Displaced[] = [];
  for (const { outlet, volumeM3, barrelM3, sewerM3, offMapM3, landings } of roofFlows) {
    const roofOwner = ownerOfRoof(ground, plan, outlet.roof);
    const sum = sums.get(roofOwner) ?? nothing;
    const rainM3 = (outlet.areaM2 * rainMm) / 1000;
    sums.set(roofOwner, {
      rainM3: sum.rainM3 + rainM3,
      soakedM3: sum.soakedM3 + rainM3 - volumeM3,
      barrelM3: sum.barrelM3 + barrelM3,
      sewerM3: sum.sewerM3 + sewerM3,
      offMapM3: sum.offMapM3 + offMapM3,
    });
    for (const landing of landings) {
      for (const cell of landing.cells) {
        const owner = ground.lotOf[cell] === -1 ? owners : ground.lotOf[cell];
        if (owner === roofOwner) continue;
        displaced.push({ cell, volumeM3: landing.volumeM3 / landing.cells.length, roofOwner });
      }
    }
  }
  return { of: (owner) => sums.get(owner) ?? nothing, displaced };
}

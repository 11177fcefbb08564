import type { Antecedent } from '../plan/storm-settings';
import { compositeCurveNumber, type SealedLot } from './composite-curve-number';
import { runOffMm } from './run-off';
import { stormCurveNumber } from './storm-curve-number';
import type { SpreadingLot } from './surface-class';

/**
 * The lot as the relation for unconnected paving takes it: its open ground by one curve number. `null` where it has no
 * ground or no unconnected paving.
 */
export function sealedLot(lot: SpreadingLot, antecedent: Antecedent): SealedLot | null {
  const { open, sealedM2, unconnectedM2 } = lot;
  const openM2 = open.reduce((sum, { areaM2 }) => sum + areaM2, 0);
  if (!(openM2 > 0) || !(unconnectedM2 > 0)) return null;
  const numbers = open.reduce(
    (sum, { surface, areaM2 }) => sum + areaM2 * stormCurveNumber(surface, antecedent),
    0,
  );
  return {
    openCurveNumber: numbers / openM2,
    sealedShare: sealedM2 / (openM2 + sealedM2),
    unconnectedShare: unconnectedM2 / sealedM2,
  };
}

/**
 * What the open ground of a lot takes in of the water that unconnected paving spreads over it, as depth over that paving.
 *
 * The relation is one of a whole lot by one curve number, which by itself mis-states the run-off of unlike surfaces. So
 * only its difference counts: run-off of the lot with all of the paving connected, less that with this part of it
 * unconnected, both by composite curve numbers. Never more than what runs off the paving.
 *
 * @returns depth by depth of rain, both millimetres; grows with the rain. What is left on the paving grows as well as
 *   long as the open ground's curve number is over 23.
 * Source: Technical Release 55, USDA SCS, 1986, figure 2-4 and appendix F (seen), for what spreads over the ground in a
 *   sheet. Nothing from 30 % sealed on, and nothing in rains so small that the lot as a whole keeps them.
 */
export function spreadCredit(
  lot: SpreadingLot,
  antecedent: Antecedent,
  pavingCurveNumber: number,
): (rainMm: number) => number {
  const sealed = sealedLot(lot, antecedent);
  if (sealed === null) return () => 0;
  const connected = compositeCurveNumber({ ...sealed, unconnectedShare: 0 });
  const spreading = compositeCurveNumber(sealed);
  const pavingShare = sealed.sealedShare * sealed.unconnectedShare;
  return (rainMm) => {
    // Rounding may put the one a hair above the other where they are next to the same.
    const overLotMm = Math.max(0, runOffMm(rainMm, connected) - runOffMm(rainMm, spreading));
    return Math.min(runOffMm(rainMm, pavingCurveNumber), overLotMm / pavingShare);
  };
}

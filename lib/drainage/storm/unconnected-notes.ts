import type { Ground } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import { mostSealedShare } from '../../storm/composite-curve-number';
import { thawOf } from '../../storm/event-depth';
import { runOffMm } from '../../storm/run-off';
import { stormCurveNumber } from '../../storm/storm-curve-number';
import { sealedLot } from '../../storm/unconnected-paving';
import { formatArea, formatRain, formatVolume } from '../../units/format';
import type { Surfaces } from './surface-run-off';

const relation = 'TR-55 (figure 2-4 and appendix F)';

/**
 * Says for each lot with unconnected paving what was credited for its spreading over open ground, by which source and
 * within which limit, or why nothing was.
 *
 * @param classRunOffMm - what runs off each class, for `rainMm` of rain.
 */
export function unconnectedNotes(
  { lots }: Pick<Ground, 'lots'>,
  { lotfall }: LocalPlan['plan'],
  { classes, unconnected }: Pick<Surfaces, 'classes' | 'unconnected'>,
  classRunOffMm: Float64Array,
  rainMm: number,
): string[] {
  const units = lotfall.units ?? 'metric';
  const antecedent = lotfall.storm?.antecedent ?? 'average';
  return unconnected.flatMap(({ lot, at }) => {
    const { spreadsOn } = classes[at];
    if (spreadsOn === undefined) return [];
    const paving = `the unconnected paving of ${lots[lot].name} (${formatArea(spreadsOn.unconnectedM2, units)})`;
    const nothing = `Nothing is credited for ${paving}`;
    if (thawOf(lotfall) !== null) {
      return [
        `${nothing}: the relation for it, ${relation}, is one of curve numbers, which do not hold in a thaw.`,
      ];
    }
    const sealed = sealedLot(spreadsOn, antecedent);
    const sealedShare = sealed?.sealedShare ?? 1;
    const most = percent(mostSealedShare);
    if (!(sealedShare < mostSealedShare)) {
      return [
        `${nothing}: ${percent(sealedShare)} of the lot is roof or paving, and ${relation} gives no credit from ${most} on.`,
      ];
    }
    const fromPavingM3 =
      (runOffMm(rainMm, stormCurveNumber(classes[at], antecedent)) * spreadsOn.unconnectedM2) /
      1000;
    const creditedM3 = fromPavingM3 - (classRunOffMm[at] * spreadsOn.unconnectedM2) / 1000;
    if (!(creditedM3 > 0)) {
      return [
        `${nothing}: ${relation} takes the lot as a whole, which by its one curve number keeps all of ${formatRain(rainMm, units)}.`,
      ];
    }
    const write = (volumeM3: number): string => formatVolume(volumeM3, units, fromPavingM3);
    return [
      `Of the ${write(fromPavingM3)} that run off ${paving}, ${write(creditedM3)} are credited as soaked in by the open ground they spread over, by ${relation}: ${percent(sealedShare)} of the lot is roof or paving, ${percent(sealed?.unconnectedShare ?? 0)} of that unconnected. The credit ends at ${most}, and holds where the water leaves the paving in a sheet and not in a runnel.`,
    ];
  });
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

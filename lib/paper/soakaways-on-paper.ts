import { roofShareM2 } from '../setback/judge/outlets';
import { buckinghamshire } from '../setback/sets/sources';
import { soakawayLedTo, soakawayRooms } from '../drainage/storm/soakaway-room';
import { soakawayDefaults } from '../ground/soakaway';
import type { LocalPlan } from '../plan/local-plan';
import type { DesignInfiltration } from '../soil/design-infiltration';
import type { Source } from '../source';
import { eventDepthMm } from '../storm/event-depth';
import { hourS } from '../units/units';
import type { Verdict } from '../verdict';

/** What a soakaway holds and how fast it empties, told without the heights of the ground. */
export interface SoakawayOnPaper {
  readonly soakaway: string;
  readonly name: string;
  /** In the gaps of its stone. */
  readonly holds_m3: number;
  /** What goes through its bottom while the storm lasts; 0 while the soil is not known. */
  readonly soaks_m3: number;
  /** Of the storm, from roofs that the plan leads there; 0 where none is. */
  readonly comes_m3: number;
  /** Left over in the storm, which comes up again. */
  readonly over_m3: number;
  /** From full, through the bottom alone; null while the soil is not known or takes nothing. */
  readonly half_empty_after_h: number | null;
  readonly limit_h: number;
  readonly result: Verdict;
  readonly why: string;
  readonly source: Source;
}

/** Half empty within so long, for the next storm. */
const halfEmptyH = 24;

/**
 * What each soakaway can take of the plan's event, and whether it is half empty in time. Walls are not counted on, as they
 * silt up first; nothing of the water table is known.
 */
export function soakawaysOnPaper(
  plan: LocalPlan,
  { rateMPerS, from }: DesignInfiltration,
): SoakawayOnPaper[] {
  const rainM = eventDepthMm(plan.plan.lotfall) / 1000;
  return soakawayRooms(plan).map(({ id, name, storageM3, soakM3 }, i): SoakawayOnPaper => {
    const { depth_m, void_ratio } = plan.of.soakaway[i].feature.properties;
    const comes = plan.of.downspout
      .filter(
        (spout) => soakawayLedTo(plan, spout.id, spout.feature.properties.pipe ?? null)?.id === id,
      )
      .reduce((sum, spout) => sum + rainM * roofShareM2(plan, spout), 0);
    const over = Math.max(0, comes - storageM3 - soakM3);
    const halfM =
      ((depth_m ?? soakawayDefaults.depthM) * (void_ratio ?? soakawayDefaults.voidRatio)) / 2;
    const halfH = rateMPerS === null || rateMPerS === 0 ? null : halfM / rateMPerS / hourS;
    const isLate = halfH !== null && halfH > halfEmptyH;
    return {
      soakaway: id,
      name,
      holds_m3: storageM3,
      soaks_m3: soakM3,
      comes_m3: comes,
      over_m3: over,
      half_empty_after_h: halfH,
      limit_h: halfEmptyH,
      result:
        over > 0 || isLate
          ? 'fail'
          : halfH === null || from === 'group' || comes === 0
            ? 'check'
            : 'pass',
      why: [
        comes === 0
          ? 'Nothing that is drawn leads into it: let a downspout or its pipe end there.'
          : over > 0
            ? 'It cannot take the storm: what is left over comes up again.'
            : 'It takes the storm.',
        halfH === null
          ? 'How fast it empties is not known: test the soil at its depth.'
          : isLate
            ? 'It is not half empty in time for the next storm.'
            : 'It is half empty in time.',
        'Its bottom is to stay 1 m above ground-water at the least: dig a hole and look.',
      ].join(' '),
      source: buckinghamshire,
    };
  });
}

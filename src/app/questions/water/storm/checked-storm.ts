import * as v from 'valibot';
import { InputError } from '../../../../../lib/errors';
import { stormSettings, type StormSettings } from '../../../../../lib/plan/storm-settings';
import { refuseImpossibleStorm, stormSeries } from '../../../../../lib/storm/storm-series';
import { hourS } from '../../../../../lib/units/units';

/** An hour is fine enough to find out whether a storm can be spread at all. */
const coarseStepS = hourS;

/**
 * The storm, once it is known that a plan can hold it and that its pattern finds the table or the measured rain that it
 * needs. @throws {InputError} `storm-not-held`, and those of `stormSeries` and `refuseImpossibleStorm`.
 */
export function checkedStorm(storm: StormSettings): StormSettings {
  const [issue] = v.safeParse(stormSettings, storm).issues ?? [];
  if (issue !== undefined) {
    throw new InputError({
      code: 'storm-not-held',
      where: 'storm',
      problem: `a plan cannot hold it (${v.getDotPath(issue) ?? ''}: ${issue.message})`,
      remedy: 'check the figures and their units',
    });
  }
  stormSeries(storm, { stepS: coarseStepS });
  refuseImpossibleStorm(storm);
  return storm;
}

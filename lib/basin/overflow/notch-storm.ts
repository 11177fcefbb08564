import { InputError } from '../../errors';
import type { Settings } from '../../plan/schema';
import { tableDepth } from '../../storm/depth-table';
import { eventDepthMm, thawOf } from '../../storm/event-depth';
import { eventDuration } from '../../storm/event-duration';

/** The storm that a notch is made for. */
export interface NotchStorm {
  /** Depth of its rain, or of the thaw's melt and rain. */
  readonly rainMm: number;
  /** Who says so: the basin in the plan, the plan's depth table, or nobody, so that the plan's own event is taken. */
  readonly from: 'plan' | 'depth-table' | 'event';
  /** How rare it is, where the table tells. */
  readonly returnPeriodY: number | null;
  /** Whether somebody says that it is as much as the notch has to bear: it is asked for, or as rare as the table goes. */
  readonly isEnough: boolean;
  /** The plan's settings with that storm in place of their own. */
  readonly settings: Settings;
}

/** Rarer than this a notch on a lot is not made for: the usual storm for ways out in an emergency. Common practice, no source. */
const rarestY = 100;

/**
 * The storm that a notch has to pass, rarer than the one that the basin is sized for: what the basin asks for; else
 * the rarest in the plan's depth table up to 100 years, as long as the plan's own storm; else the plan's own event. Never
 * one that brings less than that event.
 *
 * @param askedMm - depth of rain that the basin asks for.
 */
export function notchStorm(settings: Settings, askedMm: number | undefined): NotchStorm {
  const eventMm = eventDepthMm(settings);
  const own = (isEnough: boolean): NotchStorm => ({
    rainMm: eventMm,
    from: 'event',
    returnPeriodY: null,
    isEnough,
    settings,
  });
  if (askedMm !== undefined) {
    return askedMm < eventMm
      ? own(true)
      : {
          rainMm: askedMm,
          from: 'plan',
          returnPeriodY: null,
          isEnough: true,
          settings: stormAt(settings, askedMm),
        };
  }
  const found = thawOf(settings) === null ? rarestInTable(settings) : null;
  if (found === null) return own(false);
  if (found.rainMm <= eventMm) return own(true);
  return {
    ...found,
    from: 'depth-table',
    isEnough: true,
    settings: stormAt(settings, found.rainMm),
  };
}

/** The plan's settings with a storm of another depth, spread as its own. */
export function stormAt(settings: Settings, rainMm: number): Settings {
  return { ...settings, event: 'storm', storm: { ...settings.storm, rain_mm: rainMm } };
}

function rarestInTable(
  settings: Settings,
): { readonly rainMm: number; readonly returnPeriodY: number } | null {
  const table = settings.storm?.depth_table;
  const returnPeriodY = table?.return_periods_y.findLast((years) => years <= rarestY);
  if (table === undefined || returnPeriodY === undefined) return null;
  try {
    const { depthMm } = tableDepth(table, eventDuration(settings).hours * 60, returnPeriodY);
    return { rainMm: depthMm, returnPeriodY };
  } catch (error) {
    // the table does not reach as far
    if (!(error instanceof InputError)) throw error;
    return null;
  }
}

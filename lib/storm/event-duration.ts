import type { Settings } from '../plan/schema';
import type { StormSettings } from '../plan/storm-settings';
import { thawOf } from './event-depth';

/** How long a storm lasts where the plan does not say, hours. Our choice, no source. */
export const usualDurationH = 1;

/** How long a nested storm lasts where the plan does not say, hours: the length of the published curves. */
const usualNestedH = 24;

/** How long a nested storm lasts, hours: as given, else a day, or as long as its depth table reaches. */
export function nestedDurationH({ duration_h, depth_table }: StormSettings): number {
  const longestH = Math.max(0, ...(depth_table?.durations_min ?? [])) / 60;
  return duration_h ?? (longestH > 0 ? Math.min(usualNestedH, longestH) : usualNestedH);
}

/** How long an event lasts, hours, and whether the plan says so itself or through what it is made of. */
export interface EventDuration {
  readonly hours: number;
  readonly isKnown: boolean;
}

/** How long the event of a plan lasts: as given, or as its pattern has it. */
export function eventDuration(settings: Pick<Settings, 'event' | 'storm' | 'thaw'>): EventDuration {
  const thaw = thawOf(settings);
  if (thaw !== null) return { hours: 24 * thaw.days.length, isKnown: true };
  const { storm } = settings;
  const { measured } = storm ?? {};
  if (storm?.pattern === 'measured' && measured !== undefined) {
    return { hours: (measured.step_min * measured.depths_mm.length) / 60, isKnown: true };
  }
  if (storm?.duration_h !== undefined) return { hours: storm.duration_h, isKnown: true };
  if (storm?.pattern === 'nested') return { hours: nestedDurationH(storm), isKnown: true };
  if (storm?.pattern?.startsWith('nrcs-') === true) return { hours: 24, isKnown: true };
  return { hours: usualDurationH, isKnown: false };
}

import type { Settings } from '../plan/schema';
import type { ThawSettings } from '../plan/storm-settings';
import { defaultRainMm } from './default-rain';
import { thawDepthMm } from './melt';

/** The thaw that the plan looks at; `null` when it looks at a storm. */
export function thawOf(settings: Pick<Settings, 'event' | 'thaw'>): ThawSettings | null {
  return settings.event === 'thaw' ? (settings.thaw ?? null) : null;
}

/** Depth of the event that the plan looks at, millimetres: a storm's rain, or a thaw's melt and rain. */
export function eventDepthMm(settings: Pick<Settings, 'event' | 'storm' | 'thaw'>): number {
  const thaw = thawOf(settings);
  return thaw === null ? (settings.storm?.rain_mm ?? defaultRainMm) : thawDepthMm(thaw);
}

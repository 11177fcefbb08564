import type { LocalPlan } from '../plan/local-plan';
import type { FeatureOf } from '../plan/schema';

/** A locate on record: who marked, when, and until when the marks may be relied on. ISO dates. */
export interface Locate {
  readonly by: 'public' | 'private';
  readonly on: string;
  readonly until: string;
}

/** What is known about a line's place today. */
export type LocateState =
  'current' | 'never' | 'expired' | 'not-yet' | 'wrong-party' | 'side-unknown';

/**
 * Whether a utility line is located today by the party whose marking counts: the public notice service for its
 * owners' lines, a private locator for lines on the lot owner's side of the meter.
 */
export function locateState(line: FeatureOf<'utility'>, today: string): LocateState {
  const { side, located } = line.properties;
  if (located === undefined) return 'never';
  if (side === undefined) return 'side-unknown';
  if (located.by !== side) return 'wrong-party';
  return isCurrent(located, today) ? 'current' : today < located.on ? 'not-yet' : 'expired';
}

/**
 * The parties of which no current locate is on record, from the lines of the plan and from locates kept beside them
 * (a locator who found nothing leaves no line).
 */
export function partiesMissing(
  plan: Pick<LocalPlan, 'of'>,
  locates: readonly Locate[],
  today: string,
): ('public' | 'private')[] {
  const all: readonly Locate[] = [
    ...locates,
    ...plan.of.utility.flatMap((line) => line.feature.properties.located ?? []),
  ];
  return (['public', 'private'] as const).filter(
    (party) => !all.some((locate) => locate.by === party && isCurrent(locate, today)),
  );
}

function isCurrent(locate: Locate, today: string): boolean {
  return locate.on <= today && today <= locate.until;
}

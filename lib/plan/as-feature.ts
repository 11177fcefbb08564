import * as v from 'valibot';
import { kinds, type Kind, type PlanFeature } from './schema';

/**
 * A feature made in the program (drawn, moved, edited) as one of the plan's, or null when it does not fit the schema of
 * its kind. Unlike reading a file this names no place: what is made here is made whole.
 */
export function asFeature(candidate: unknown): PlanFeature | null {
  const kind = kindOf(candidate);
  if (kind === null) return null;
  const result = v.safeParse(kinds[kind], candidate);
  return result.success ? result.output : null;
}

function kindOf(candidate: unknown): Kind | null {
  const found = v.safeParse(
    v.looseObject({ properties: v.looseObject({ kind: v.string() }) }),
    candidate,
  );
  if (!found.success) return null;
  const { kind } = found.output.properties;
  return kind in kinds ? (kind as Kind) : null;
}

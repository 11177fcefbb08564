import { kinds, type Kind } from '../../plan/schema';
import type { Condition } from './rule';

/** A property's schema as far as rules look at it. */
export interface PropertySchema {
  readonly type: string;
  /** The values of a list to pick from. */
  readonly options?: readonly unknown[];
}

interface MaybeOptional extends PropertySchema {
  readonly wrapped?: PropertySchema;
}

/** The schema of a property of a kind of features; `undefined` for the user's own. */
export function propertySchema(kind: Kind, name: string): PropertySchema | undefined {
  const entries: Readonly<Record<string, MaybeOptional>> = kinds[kind].entries.properties.entries;
  const known = Object.hasOwn(entries, name) ? entries[name] : undefined;
  return known?.wrapped ?? known;
}

/** A value that no condition names. */
const anyOther = Symbol('any other value');

/**
 * Values that an absent property may have, so many that any condition among those given is met by one of them if by any,
 * and failed by one if by any: every choice of a list, of numbers (which are all 0 or more) the ends of the ranges and
 * one between each two and beyond them, of anything else what the conditions name and something that they do not.
 */
export function possibleValues(
  kind: Kind,
  name: string,
  conditions: readonly Condition[],
): readonly unknown[] {
  const schema = propertySchema(kind, name);
  if (schema?.type === 'picklist') return schema.options ?? [];
  if (schema?.type === 'boolean') return [true, false];
  const ends = conditions.flatMap((each) =>
    Array.isArray(each) ? [] : [each.at_least ?? 0, each.at_most ?? 0],
  );
  const sorted = [...new Set([0, ...ends])].filter((end) => end >= 0).sort((a, b) => a - b);
  const numbers =
    ends.length === 0
      ? []
      : sorted.flatMap((end, i) => [
          end,
          i + 1 < sorted.length ? (end + sorted[i + 1]) / 2 : end + 1,
        ]);
  if (schema?.type === 'number') return numbers;
  const named = conditions.flatMap((each) => (Array.isArray(each) ? each : []));
  return [...numbers, ...named, anyOther];
}

import { nearMatches } from '../../plan/near-matches';
import { kinds } from '../../plan/schema';
import { propertySchema } from './possible-values';
import type { Condition, Rule, RuleOf, RuleSet, Selector } from './rule';

/** Why a rule set that is well formed cannot be meant so. */
export interface Contradiction {
  /** The rules at fault. */
  readonly where: string;
  readonly problem: string;
  readonly remedy: string;
}

/**
 * The first contradiction in a rule set, or `undefined`. Refused are:
 *
 * - two rules with one id or one letter;
 * - a condition that no feature of its kind can meet: a value that the property cannot have, a range that is empty, a
 *   property whose name is misspelt (other properties are the user's own and are let through);
 * - limits that leave nothing between them: a least slope above the greatest, in one rule or in two that must be met;
 * - a distance to be kept from the own lot by a basin that must lie in it;
 * - two rules that ask different figures of the very same things, equally binding: one of them could never decide.
 *
 * That one rule asks more than another of some of the same features is no contradiction: the stricter one decides.
 */
export function contradiction({ rules }: RuleSet): Contradiction | undefined {
  return (
    doubled(rules, 'id', 'ids') ??
    doubled(rules, 'letter', 'letters') ??
    first(rules, deadCondition) ??
    first(rules, (rule) => emptySlope(rule, rules)) ??
    first(rules, (rule) => offOwnLot(rule, rules)) ??
    first(rules, (rule) => undecided(rule, rules))
  );
}

function first<T>(
  list: readonly T[],
  look: (entry: T) => Contradiction | undefined,
): Contradiction | undefined {
  for (const entry of list) {
    const found = look(entry);
    if (found !== undefined) return found;
  }
  return undefined;
}

function doubled(
  rules: readonly Rule[],
  key: 'id' | 'letter',
  plural: string,
): Contradiction | undefined {
  const seen = new Map<string, Rule>();
  return first(rules, (rule) => {
    const before = seen.get(rule[key]);
    seen.set(rule[key], rule);
    return (
      before && {
        where: `rule '${rule.id}'`,
        problem: `expected ${plural} to be unique, but '${before.title}' and '${rule.title}' both have ${rule[key]}`,
        remedy: `give one of them another ${key}`,
      }
    );
  });
}

function deadCondition(rule: Rule): Contradiction | undefined {
  if (!('from' in rule)) return undefined;
  return first(rule.from, (selector) =>
    first(Object.entries(selector.where ?? {}), ([name, condition]) => {
      const why = cannotMeet(selector, name, condition);
      return why === undefined
        ? undefined
        : {
            where: `rule '${rule.id}'`,
            problem: `its condition on ${name} can never be met: ${why}`,
            remedy: 'correct the condition or take it out',
          };
    }),
  );
}

function cannotMeet({ kind }: Selector, name: string, condition: Condition): string | undefined {
  const range = !Array.isArray(condition);
  if (range && (condition.at_least ?? -Infinity) > (condition.at_most ?? Infinity)) {
    return `nothing is at least ${condition.at_least} and at most ${condition.at_most}`;
  }
  const schema = propertySchema(kind, name);
  if (schema === undefined) {
    const near = nearMatches(name, Object.keys(kinds[kind].entries.properties.entries));
    return near.length > 0
      ? `a ${kind} has no such property, but it has ${near.join(' and ')}`
      : undefined;
  }
  if (range) return schema.type === 'number' ? undefined : `it is not a number`;
  if (schema.type === 'number') return 'it is a number, which wants at_least or at_most';
  if (schema.type === 'picklist') {
    const other = condition.find((value) => schema.options?.includes(value) === false);
    return other === undefined
      ? undefined
      : `it is never ${String(other)}, only ${schema.options?.join(', ')}`;
  }
  if (schema.type === 'boolean' && condition.some((value) => typeof value !== 'boolean')) {
    return 'it is true or false';
  }
  return undefined;
}

function emptySlope(rule: Rule, rules: readonly Rule[]): Contradiction | undefined {
  if (rule.test !== 'slope') return undefined;
  const others = rules.filter(
    (other): other is RuleOf<'slope'> =>
      other === rule ||
      (other.test === 'slope' && other.binding === 'must' && rule.binding === 'must'),
  );
  const against = others.find((other) => rule.atLeast > other.atMost);
  return (
    against && {
      where: `rule '${rule.id}'`,
      problem: `no ground is at least ${percent(rule.atLeast)} steep and, as ${
        against === rule ? 'it' : `rule '${against.id}'`
      } asks too, at most ${percent(against.atMost)}`,
      remedy: 'raise the one or lower the other',
    }
  );
}

function offOwnLot(rule: Rule, rules: readonly Rule[]): Contradiction | undefined {
  if (rule.test !== 'distance') return undefined;
  const own = rule.from.some(({ kind, where }) => {
    const asked = where?.['own'];
    return kind === 'lot' && (!Array.isArray(asked) || asked.includes(true));
  });
  const inside = rules.find((other) => other.test === 'inside-lot');
  if (!own || inside === undefined) return undefined;
  return {
    where: `rule '${rule.id}'`,
    problem: `it keeps the basin away from its own lot, and rule '${inside.id}' keeps it inside`,
    remedy: 'measure it from lots with own: [false], or from the lot line by inside-lot',
  };
}

/** The figure that a rule compares with; what else it says is what it is about. */
const figures = [
  'm',
  'toleranceM',
  'reachM',
  'atLeastM',
  'atMostH',
  'perDiameter',
  'uphillM',
  'downhillM',
];
const labels = ['id', 'letter', 'title', 'published', 'source', 'note'];

function undecided(rule: Rule, rules: readonly Rule[]): Contradiction | undefined {
  // What to do on site is in words, and slopes may be limited from both sides.
  if (rule.test === 'on-site' || rule.test === 'slope') return undefined;
  const about = subject(rule);
  const other = rules.find((each) => each.id !== rule.id && subject(each) === about);
  return (
    other && {
      where: `rules '${rule.id}' and '${other.id}'`,
      problem:
        'both ask a figure of the very same things and are equally binding, so one of them could never decide',
      remedy:
        'take one out, or make them differ in what they measure from or in how binding they are',
    }
  );
}

function subject(rule: Rule): string {
  return JSON.stringify(rule, (key, value: unknown) =>
    labels.includes(key) || figures.includes(key) ? undefined : value,
  );
}

function percent(ratio: number): string {
  return `${Number((100 * ratio).toFixed(2))} %`;
}

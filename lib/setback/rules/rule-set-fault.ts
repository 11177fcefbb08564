import * as v from 'valibot';
import { InputError } from '../../errors';
import { inWords, quote } from '../../plan/property-fault';

/** What to do about a member that is missing, where more can be said than that it is. */
const missing: Readonly<Record<string, string>> = {
  source:
    'say where the figure stands: title, publisher, year (null when undated) and mark, so that a reader can look it up',
  published: 'write what the source asks for in its own words and units',
  binding: 'say whether it must be met, should be met, or is advice',
  test: 'say what the rule tests',
  from: 'name the kinds of feature that it measures from',
};

/**
 * The first fault of a rule set's document as a sentence: the file, the place in it, the rule by its id, what was
 * expected and what was met.
 */
export function ruleSetFault(
  issue: v.BaseIssue<unknown>,
  document: unknown,
  where: string,
): InputError {
  const path = v.getDotPath(issue);
  const last = path?.split('.').at(-1) ?? '';
  const unknownMember = issue.type === 'strict_object' && issue.expected === 'never';
  const absent = issue.input === undefined && !unknownMember;
  return new InputError({
    code: 'rule-set-invalid',
    where: path === null ? where : `${where}, ${path}`,
    problem: `${inRule(document, path)}${
      unknownMember
        ? `'${last}' is not known here`
        : `expected ${expected(issue)}, but it is ${absent ? 'missing' : quote(issue.input)}`
    }`,
    remedy: unknownMember
      ? 'correct its spelling or take it out'
      : ((absent ? missing[last] : undefined) ??
        'correct that value, or choose one of the rule sets that come with the program'),
  });
}

/** Which rule a path leads into, by its id: places are counted from 0 in the path, and hard to find by. */
function inRule(document: unknown, path: string | null): string {
  const at = /^rules\.(\d+)/.exec(path ?? '');
  if (at === null) return '';
  const rules = (document as { rules: readonly unknown[] }).rules;
  const rule = rules[Number(at[1])];
  const id = typeof rule === 'object' && rule !== null && 'id' in rule ? rule.id : undefined;
  return typeof id === 'string' ? `in rule '${id}', ` : '';
}

function expected(issue: v.BaseIssue<unknown>): string {
  // Messages that the schema gives itself are in the user's words already.
  if (issue.message.startsWith('expected ')) return issue.message.slice('expected '.length);
  const limit = String(issue.requirement);
  switch (issue.type) {
    case 'min_value':
      return `at least ${limit}`;
    case 'max_value':
      return `at most ${limit}`;
    case 'min_length':
      return typeof issue.input === 'string' ? 'text' : `at least ${limit} entries`;
    case 'max_length':
      return `at most ${limit} entries`;
    case 'strict_object':
      return 'a value';
    default:
      return inWords(issue.expected ?? 'another value');
  }
}

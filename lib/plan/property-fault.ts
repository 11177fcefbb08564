import * as v from 'valibot';

/** The first property that is not as its schema wants it, in words. */
export interface PropertyFault {
  /** Names from the outside in, joined by dots. */
  readonly path: string;
  /** What was met and what was expected, as one clause. */
  readonly problem: string;
  readonly missing: boolean;
}

/** The first fault of a value against a schema, or `undefined`. The value itself is left as it is. */
export function propertyFault(schema: v.GenericSchema, value: unknown): PropertyFault | undefined {
  const result = v.safeParse(schema, value, { abortEarly: true });
  if (result.success) return undefined;
  const [issue] = result.issues;
  const path = v.getDotPath(issue) ?? '';
  const missing = issue.input === undefined;
  const met = missing ? 'it is missing' : `it is ${quote(issue.input)}`;
  return { path, problem: `${expected(issue, schema, path)}, but ${met}`, missing };
}

/** A value as it is shown in a message: JSON, cut short. */
export function quote(value: unknown): string {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

function expected(issue: v.BaseIssue<unknown>, schema: v.GenericSchema, path: string): string {
  // Messages that the schema gives itself are in the user's words already.
  if (issue.message.startsWith('expected ')) return issue.message;
  const { requirement } = issue;
  switch (issue.type) {
    case 'min_value':
      return `expected at least ${String(requirement)}`;
    case 'max_value':
      return `expected at most ${String(requirement)}`;
    case 'min_length':
      return `expected at least ${String(requirement)} entries`;
    case 'loose_object':
      return issue.input === undefined ? missingKey(schema, path) : 'expected an object';
    default:
      return `expected ${inWords(issue.expected ?? 'another value')}`;
  }
}

/** What schemas hold others in: objects by name, lists, and what may be left out. */
interface Nested {
  readonly entries?: Readonly<Record<string, Nested>>;
  readonly item?: Nested;
  readonly wrapped?: Nested;
}

/** What a missing member should have been: its own schema is asked. */
function missingKey(schema: v.GenericSchema, path: string): string {
  let inner: Nested | undefined = schema as Nested;
  for (const name of path.split('.')) {
    const within: Nested | undefined = inner?.wrapped ?? inner;
    inner = within?.entries?.[name] ?? within?.item;
  }
  return inner === undefined
    ? 'expected a value'
    : `expected ${inWords((inner as unknown as v.GenericSchema).expects)}`;
}

/** What a schema expects, in words. */
export function inWords(expects: string): string {
  const plain: Partial<Record<string, string>> = {
    boolean: 'true or false',
    string: 'text',
    number: 'a number',
    Object: 'an object',
    Array: 'a list',
  };
  if (plain[expects] !== undefined) return plain[expects];
  const choices = expects.match(/"[^"]+"/g);
  if (choices === null) return expects;
  return `${choices.length > 1 ? 'one of ' : ''}${choices.map((word) => word.slice(1, -1)).join(', ')}`;
}

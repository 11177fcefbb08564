/**
 * A setback rule set as data. Nothing about a place, a number or a source is written in code: a set published for
 * another jurisdiction is another object of this shape. Lengths are in metres, with the figure as it was published
 * kept beside them as text.
 */
import * as v from 'valibot';
import { InputError } from '../errors';
import { kindNames } from '../plan/schema';

/** How well a figure is known: read in the source, read in a copy of it, a rule of thumb, or remembered. */
const mark = v.picklist([
  'seen',
  'seen in a secondary copy',
  'common practice, no source',
  'from memory',
]);

/** Where a rule comes from. */
const ruleSource = v.object({
  title: v.string(),
  publisher: v.string(),
  /** Year of publication, `null` for an undated page. */
  year: v.nullable(v.number()),
  section: v.optional(v.string()),
  mark,
});

/** How binding a rule is: must be met, should be met, or worth knowing. */
const binding = v.picklist(['must', 'should', 'advice']);

const positiveM = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));

/** Which features a rule measures from: a kind, and where given the values that a property must have. */
const selector = v.object({
  kind: v.picklist(kindNames),
  where: v.optional(v.record(v.string(), v.array(v.string()))),
  /** What an absent property means: the rule applies, is skipped, or cannot be judged where it would fail. */
  absent: v.optional(v.picklist(['applies', 'skip', 'check']), 'check'),
});

/** A required distance. */
const distance = v.variant('by', [
  v.object({ by: v.literal('constant'), m: positiveM }),
  /** In proportion to a tree's trunk, and where asked no less than its canopy or a fixed distance. */
  v.object({
    by: v.literal('trunk'),
    /** Metres of distance for one metre of trunk diameter: 1 ft for each inch is 12. */
    perDiameter: positiveM,
    orCanopy: v.optional(v.boolean(), false),
    atLeastM: v.optional(positiveM, 0),
  }),
  /** The edge of a tree's canopy. */
  v.object({ by: v.literal('canopy') }),
  /** One distance when the basin lies uphill of the feature (or level with it), another when downhill. */
  v.object({ by: v.literal('side'), uphillM: positiveM, downhillM: positiveM }),
  /** Touching is allowed, lying over it is not. */
  v.object({ by: v.literal('not-over') }),
]);

const everyRule = {
  id: v.pipe(v.string(), v.regex(/^[a-z][a-z0-9-]*$/)),
  /** One or two letters that mark the rule's zone on the map; unique in its set. */
  letter: v.pipe(v.string(), v.regex(/^[A-Z]{1,2}$/)),
  title: v.string(),
  /** What the source asks for, in its own figures and units. */
  published: v.pipe(v.string(), v.minLength(1)),
  binding,
  source: ruleSource,
  /** Anything a reader should know before relying on the rule. */
  note: v.optional(v.string()),
};
const from = v.pipe(v.array(selector), v.minLength(1));
/** What of the basin is measured: the rim, or the outer foot of its berm. */
const edge = v.optional(v.picklist(['rim', 'berm']), 'rim');

const rule = v.variant('test', [
  /** The basin keeps a distance from features. */
  v.object({ test: v.literal('distance'), ...everyRule, from, edge, distance }),
  /** The basin lies inside its own lot, this far from the lot line. */
  v.object({ test: v.literal('inside-lot'), ...everyRule, edge, m: positiveM }),
  /** The basin keeps out of the tolerance zone of lines that are located, and nothing is taken for absent. */
  v.object({ test: v.literal('utility'), ...everyRule, edge, toleranceM: positiveM }),
  /** Within a reach, the basin does not lie uphill of features. */
  v.object({ test: v.literal('not-uphill'), ...everyRule, from, reachM: positiveM }),
  /** The ground at the basin is no steeper than a limit (rise over run). */
  v.object({
    test: v.literal('slope'),
    ...everyRule,
    atMost: v.pipe(v.number(), v.minValue(0), v.maxValue(2)),
  }),
  /** No ground steeper than a limit lies within a distance. */
  v.object({
    test: v.literal('steep-ground'),
    ...everyRule,
    edge,
    steeperThan: v.pipe(v.number(), v.minValue(0), v.maxValue(5)),
    m: positiveM,
  }),
  /** Only to be judged on site; always answered with what to do there. */
  v.object({ test: v.literal('on-site'), ...everyRule, ask: v.string() }),
]);

const ruleSet = v.pipe(
  v.object({
    id: v.pipe(v.string(), v.regex(/^[a-z][a-z0-9-]*$/)),
    title: v.string(),
    jurisdiction: v.string(),
    note: v.string(),
    rules: v.pipe(v.array(rule), v.minLength(1), v.maxLength(31)),
  }),
  v.check((set) => unique(set.rules.map((entry) => entry.id)), 'expected rule ids to be unique'),
  v.check((set) => unique(set.rules.map((entry) => entry.letter)), 'expected letters to be unique'),
);

export type RuleSource = v.InferOutput<typeof ruleSource>;
export type Binding = v.InferOutput<typeof binding>;
export type Selector = v.InferOutput<typeof selector>;
export type Distance = v.InferOutput<typeof distance>;
export type Rule = v.InferOutput<typeof rule>;
export type RuleOf<T extends Rule['test']> = Extract<Rule, { test: T }>;
export type RuleSet = v.InferOutput<typeof ruleSet>;
/** A rule as written, before defaults are filled in. */
export type RuleInputOf<T extends Rule['test']> = Extract<v.InferInput<typeof rule>, { test: T }>;
/** A rule set as written, before defaults are filled in. */
export type RuleSetInput = v.InferInput<typeof ruleSet>;

/**
 * Reads a rule set from parsed JSON.
 *
 * @param where - the file's name, for the message.
 * @throws {InputError} `rule-set-invalid`, naming the first place that does not fit and what was expected there.
 */
export function parseRuleSet(input: unknown, where: string): RuleSet {
  const result = v.safeParse(ruleSet, input);
  if (result.success) return result.output;
  const [issue] = result.issues;
  const path = v.getDotPath(issue);
  throw new InputError({
    code: 'rule-set-invalid',
    where: path === null ? where : `${where}, ${path}`,
    problem: `this is not a rule set (${issue.message})`,
    remedy: 'correct that value, or choose one of the rule sets that come with the program',
  });
}

function unique(values: readonly string[]): boolean {
  return new Set(values).size === values.length;
}

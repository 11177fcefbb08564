/**
 * A setback rule set as data. Nothing about a place, a number or a source is written in code: a set published for
 * another jurisdiction is another document of this shape. Lengths are in metres, with the figure as it was published
 * kept beside them as text.
 *
 * Documents carry units as suffixes (`at_least_m`); read, they name them as the rest of the code does (`atLeastM`).
 * Unknown members are refused: one misspelt would else leave a rule weaker than its author meant it.
 */
import * as v from 'valibot';
import { kindNames, service } from '../../plan/schema';
import { source } from '../../source';
import { lotRule } from './lot-rule';

/** How binding a rule is: must be met, should be met, or worth knowing. */
const binding = v.picklist(['must', 'should', 'advice']);

const text = v.pipe(v.string(), v.minLength(1));
const positiveM = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));
const fall = v.pipe(v.number(), v.minValue(0), v.maxValue(5));
const idText = v.pipe(
  v.string(),
  v.regex(/^[a-z][a-z0-9-]*$/, 'expected small letters, digits and hyphens, a letter first'),
);

/** Values that a property may have, or the range that it may lie in; both ends belong to it. */
const condition = v.union(
  [
    v.pipe(v.array(v.union([v.string(), v.boolean()])), v.minLength(1)),
    v.pipe(
      v.strictObject({ at_least: v.optional(v.number()), at_most: v.optional(v.number()) }),
      v.check(
        ({ at_least, at_most }) => at_least !== undefined || at_most !== undefined,
        'expected at_least, at_most or both',
      ),
    ),
  ],
  'expected a list of values, or an object with at_least and at_most',
);

/** Which features a rule measures from: a kind, and where given what its properties must be. */
const selector = v.strictObject({
  kind: v.picklist(kindNames),
  where: v.optional(v.record(v.string(), condition)),
  /** What an absent property means: the rule applies, is skipped, or cannot be judged where it would fail. */
  absent: v.optional(v.picklist(['applies', 'skip', 'check']), 'check'),
});

/** A required distance. */
const distance = v.variant('by', [
  v.strictObject({ by: v.literal('constant'), m: positiveM }),
  /** In proportion to a tree's trunk, and where asked no less than its canopy or a fixed distance. */
  v.pipe(
    v.strictObject({
      by: v.literal('trunk'),
      /** Metres of distance for one metre of trunk diameter: 1 ft for each inch is 12. */
      per_diameter: positiveM,
      or_canopy: v.optional(v.boolean(), false),
      at_least_m: v.optional(positiveM, 0),
    }),
    v.transform(({ by, per_diameter, or_canopy, at_least_m }) => ({
      by,
      perDiameter: per_diameter,
      orCanopy: or_canopy,
      atLeastM: at_least_m,
    })),
  ),
  /** The edge of a tree's canopy. */
  v.strictObject({ by: v.literal('canopy') }),
  /** One distance when the basin lies uphill of the feature (or level with it), another when downhill. */
  v.pipe(
    v.strictObject({ by: v.literal('side'), uphill_m: positiveM, downhill_m: positiveM }),
    v.transform(({ by, uphill_m, downhill_m }) => ({
      by,
      uphillM: uphill_m,
      downhillM: downhill_m,
    })),
  ),
  /** Touching is allowed, lying over it is not. */
  v.strictObject({ by: v.literal('not-over') }),
]);

const everyRule = {
  id: idText,
  /** One or two letters that mark the rule's zone on the map; unique in its set. */
  letter: v.pipe(v.string(), v.regex(/^[A-Z]{1,2}$/, 'expected one or two capital letters')),
  title: text,
  /** What the source asks for, in its own figures and units. */
  published: text,
  binding,
  source,
  /** Anything a reader should know before relying on the rule. */
  note: v.optional(v.string()),
};
const from = v.pipe(v.array(selector), v.minLength(1));
/** What of the basin is measured: the rim, the outer foot of its berm, or the edge of its level floor. */
const edge = v.optional(v.picklist(['rim', 'berm', 'bottom']), 'rim');
/** What lies in the ground under a basin. */
const below = v.picklist(['water-table', 'rock', 'limiting-layer']);

const rule = v.variant('test', [
  /** The basin keeps a distance from features. */
  v.strictObject({ test: v.literal('distance'), ...everyRule, from, edge, distance }),
  /** The basin lies inside its own lot, this far from the lot line. */
  v.strictObject({ test: v.literal('inside-lot'), ...everyRule, edge, m: positiveM }),
  /** The basin keeps out of the tolerance zone of lines that are located, and nothing is taken for absent. */
  v.pipe(
    v.strictObject({
      test: v.literal('utility'),
      ...everyRule,
      edge,
      tolerance_m: positiveM,
      /** Those of which both parties have to say where their lines are, or that there is none. */
      services: v.optional(v.pipe(v.array(service), v.minLength(1)), () => [...service.options]),
    }),
    v.transform(({ tolerance_m, ...rest }) => ({ ...rest, toleranceM: tolerance_m })),
  ),
  /** Within a reach, the basin does not lie uphill of features. */
  v.pipe(
    v.strictObject({ test: v.literal('not-uphill'), ...everyRule, from, reach_m: positiveM }),
    v.transform(({ reach_m, ...rest }) => ({ ...rest, reachM: reach_m })),
  ),
  /** The ground at the basin is no steeper than a limit (rise over run), and where given no flatter than another. */
  v.pipe(
    v.strictObject({
      test: v.literal('slope'),
      ...everyRule,
      at_most: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(2))),
      at_least: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(2))),
    }),
    v.check(
      ({ at_most, at_least }) => at_most !== undefined || at_least !== undefined,
      'expected at_most, at_least or both',
    ),
    v.transform(({ at_most, at_least, ...rest }) => ({
      ...rest,
      atMost: at_most ?? Infinity,
      atLeast: at_least ?? 0,
    })),
  ),
  /** No ground steeper than a limit lies within a distance. */
  v.pipe(
    v.strictObject({
      test: v.literal('steep-ground'),
      ...everyRule,
      edge,
      steeper_than: fall,
      m: positiveM,
    }),
    v.transform(({ steeper_than, ...rest }) => ({ ...rest, steeperThan: steeper_than })),
  ),
  /** Water, rock or a tight layer in the ground lies at least so far down. */
  v.pipe(
    v.strictObject({
      test: v.literal('separation-below'),
      ...everyRule,
      to: v.pipe(v.array(below), v.minLength(1)),
      /** From the bottom of the dig, layers and all, or from the ground's surface. */
      measured_from: v.optional(v.picklist(['bottom', 'surface']), 'bottom'),
      at_least_m: positiveM,
    }),
    v.transform(({ at_least_m, measured_from, ...rest }) => ({
      ...rest,
      measuredFrom: measured_from,
      atLeastM: at_least_m,
    })),
  ),
  /** Ponded water is gone within so many hours. */
  v.pipe(
    v.strictObject({
      test: v.literal('drain-down'),
      ...everyRule,
      at_most_h: v.pipe(v.number(), v.minValue(0), v.maxValue(1000)),
    }),
    v.transform(({ at_most_h, ...rest }) => ({ ...rest, atMostH: at_most_h })),
  ),
  /** What overflows runs over the finished ground onto none of these. */
  v.strictObject({ test: v.literal('overflow'), ...everyRule, from }),
  /** Not where water already stands deeper than a limit, on soil slower than a limit (any soil where none is given). */
  v.pipe(
    v.strictObject({
      test: v.literal('wet-spot'),
      ...everyRule,
      deeper_than_m: positiveM,
      slower_than_mm_per_h: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(5000))),
    }),
    v.transform(({ deeper_than_m, slower_than_mm_per_h, ...rest }) => ({
      ...rest,
      deeperThanM: deeper_than_m,
      slowerThanMmPerH: slower_than_mm_per_h,
    })),
  ),
  /** Only to be judged on site; always answered with what to do there. */
  v.strictObject({ test: v.literal('on-site'), ...everyRule, ask: text }),
]);

/** Said with every set that says nothing itself. */
export const localGoverns =
  'Local code governs: ask your municipality, health department and utility notice centre, and use their figures where they differ.';

/** As many as a cell's refusals have bits for, less one. */
export const mostRules = 31;

/** The document of a rule set. */
export const ruleSetDocument = v.strictObject({
  /** Where editors find the schema; not read. */
  $schema: v.optional(v.string()),
  id: idText,
  title: text,
  jurisdiction: text,
  note: v.optional(text, localGoverns),
  rules: v.pipe(v.array(rule), v.minLength(1), v.maxLength(mostRules)),
  /** Rules about drainage that need no basin; the generic ones count where a set has none. */
  lot_rules: v.optional(v.pipe(v.array(lotRule), v.minLength(1), v.maxLength(mostRules))),
});

export type Binding = v.InferOutput<typeof binding>;
export type Condition = v.InferOutput<typeof condition>;
export type Selector = v.InferOutput<typeof selector>;
export type Distance = v.InferOutput<typeof distance>;
/** What of the basin a rule measures from. */
export type BasinEdge = v.InferOutput<typeof edge>;
/** What in the ground a rule keeps the basin above. */
export type Below = v.InferOutput<typeof below>;
export type Rule = v.InferOutput<typeof rule>;
export type RuleOf<T extends Rule['test']> = Extract<Rule, { test: T }>;
export type RuleSet = v.InferOutput<typeof ruleSetDocument>;
/** A rule as a document has it, before defaults are filled in. */
export type RuleInputOf<T extends Rule['test']> = Extract<v.InferInput<typeof rule>, { test: T }>;
/** A rule set as a document has it, before defaults are filled in. */
export type RuleSetInput = v.InferInput<typeof ruleSetDocument>;

/**
 * Rules about drainage on a lot that need no basin: where pipes and pumps let water out, what must stay open, and where
 * gathered water crosses a line. They stand in a rule set beside the rules about basins.
 */
import * as v from 'valibot';
import { source } from '../../source';

const text = v.pipe(v.string(), v.minLength(1));
const lengthM = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));

/** What lets water out at a place. */
const letsOut = v.picklist([
  'sump-outlet',
  'downspout',
  'drain-pipe',
  'yard-drain',
  'trench-drain',
]);
/** What water runs along by right or by nature. */
const way = v.picklist(['swale', 'watercourse', 'easement']);
/** What may stand in its way. */
const obstacle = v.picklist(['wall', 'kerb', 'berm', 'regrade', 'building', 'fence', 'soakaway']);

const everyRule = {
  id: v.pipe(
    v.string(),
    v.regex(/^[a-z][a-z0-9-]*$/, 'expected small letters, digits and hyphens, a letter first'),
  ),
  title: text,
  /** What the source asks for, in its own figures and units. */
  published: text,
  binding: v.picklist(['must', 'should', 'advice']),
  source,
  /** Whom to ask. */
  ask: text,
  /** What a breach comes to: it fails, or is to be looked at, as where somebody may allow it. */
  breach: v.optional(v.picklist(['fail', 'check']), 'fail'),
  note: v.optional(v.string()),
};

/** One rule of a document. */
export const lotRule = v.variant('test', [
  /** Where water is let out keeps a distance. */
  v.strictObject({
    test: v.literal('outlet-distance'),
    ...everyRule,
    outlets: v.pipe(v.array(letsOut), v.minLength(1)),
    /** A lot's line, a building's wall, or paving on nobody's lot: pavement, street, lane. */
    to: v.picklist(['lot-line', 'building', 'public-way']),
    at_least_m: lengthM,
  }),
  /** What water runs along is neither filled nor blocked. */
  v.strictObject({
    test: v.literal('keep-open'),
    ...everyRule,
    ways: v.pipe(v.array(way), v.minLength(1)),
    against: v.pipe(v.array(obstacle), v.minLength(1)),
  }),
  /** Where water is made to soak away in the ground keeps a distance, measured from its edge. */
  v.strictObject({
    test: v.literal('soakaway-distance'),
    ...everyRule,
    /** A building's wall, the line of the lot that it lies on, or another soakaway. */
    to: v.picklist(['building', 'lot-line', 'soakaway']),
    at_least_m: lengthM,
  }),
  /** No gathered water is let over a line, or out so near to one, but into a watercourse or an easement. */
  v.strictObject({ test: v.literal('gathered-flow'), ...everyRule, within_m: lengthM }),
]);

export type LotRule = v.InferOutput<typeof lotRule>;
export type LotRuleOf<T extends LotRule['test']> = Extract<LotRule, { test: T }>;
export type LotRuleInput = v.InferInput<typeof lotRule>;

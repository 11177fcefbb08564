import type { XY } from '../../frame/frame';
import { segmentCrossing } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { nameOf } from '../../setback/rules/concerned';
import { requestWords } from '../../setback/locate/answer-words';
import { trenchWidthM, workingMarginM } from '../../setback/locate/dig-pieces';
import {
  allServices,
  isAnswered,
  locateState,
  serviceAnswers,
  type ClearLocate,
} from '../../setback/locate/locates';
import { outlineOf, pointDistance } from '../../setback/measure/outline';
import type { RuleSet } from '../../setback/rules/rule';
import type { TrenchFinding } from './led-roof';
import { pavingOf, rootsM, zoneM } from './trench-ground';

/**
 * More trench in a tolerance zone than this many times its full width for each crossing runs along the line instead
 * of across it. Common practice, no source.
 */
const widthsAcross = 3;
/** Ways are looked at in steps of this much, metres. */
const stepM = 0.1;

export interface TrenchInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  readonly ruleSet: RuleSet;
  readonly today: string;
  readonly locates?: readonly ClearLocate[];
}

/**
 * What a trench along a route meets: lines in the ground, roots, paving, easements.
 *
 * @returns `null` when it runs along a line in its tolerance zone instead of crossing it: no place for a trench.
 */
export function trenchFindings(
  { plan, ruleSet, today, locates }: TrenchInput,
  route: readonly XY[],
): TrenchFinding[] | null {
  const found: TrenchFinding[] = [];
  for (const line of plan.of.utility) {
    const halfM = zoneM(line, ruleSet);
    const lengthM = lengthWithin(route, line, halfM);
    if (lengthM === 0) continue;
    const crossings = countCrossings(route, line);
    if (lengthM > widthsAcross * 2 * halfM * Math.max(1, crossings)) return null;
    const located = locateState(line.feature, today) === 'current';
    const across = crossings > 0 ? 'crosses the line' : 'touches the tolerance zone of the line';
    found.push({
      what: 'utility',
      feature: line.id,
      feature_name: nameOf(line),
      length_m: lengthM,
      why: `The trench ${across}: dig by hand there${located ? '' : ', once it is located; no current locate is on record'}.`,
    });
  }
  const expected = ruleSet.rules.flatMap((rule) => (rule.test === 'utility' ? rule.services : []));
  const answers = serviceAnswers({
    plan,
    locates: locates ?? [],
    services: expected.length > 0 ? [...new Set(expected)] : allServices,
    today,
    pieces: () => [
      { shape: { type: 'line', points: route }, reachM: trenchWidthM / 2 + workingMarginM },
    ],
  });
  if (!answers.every(isAnswered)) {
    found.push({
      what: 'unmarked',
      feature: null,
      feature_name: 'lines not on the plan',
      length_m: 0,
      why: `Unmarked is not absent: have the way located first. ${requestWords(answers)}`,
    });
  }
  for (const tree of plan.of.tree) {
    add(found, route, tree, rootsM(tree, ruleSet), {
      what: 'roots',
      why: 'The trench runs through roots: dig by hand, bore below them, or lead the water on the surface.',
    });
  }
  for (const surface of pavingOf(plan)) {
    add(found, route, surface, 0, {
      what: 'paving',
      why: 'The trench crosses it: it has to be opened and made good, or bored under.',
    });
  }
  for (const easement of plan.of.easement) {
    add(found, route, easement, 0, {
      what: 'easement',
      why: 'The trench crosses the easement: its holder has to agree.',
    });
  }
  return found;
}

function add(
  found: TrenchFinding[],
  route: readonly XY[],
  feature: LocalFeature,
  reachM: number,
  what: Pick<TrenchFinding, 'what' | 'why'>,
): void {
  const lengthM = lengthWithin(route, feature, reachM);
  if (lengthM === 0) return;
  found.push({
    ...what,
    feature: feature.id,
    feature_name: nameOf(feature),
    length_m: lengthM,
  });
}

/** Length of a route that lies within a reach of a feature, to a step, metres. */
function lengthWithin(route: readonly XY[], feature: LocalFeature, reachM: number): number {
  const outline = outlineOf(feature.shape);
  let sum = 0;
  for (let i = 1; i < route.length; i++) {
    const [ax, ay] = route[i - 1];
    const [bx, by] = route[i];
    const legM = Math.hypot(bx - ax, by - ay);
    const steps = Math.max(1, Math.ceil(legM / stepM));
    for (let k = 0; k < steps; k++) {
      const t = (k + 0.5) / steps;
      const x = ax + t * (bx - ax);
      const y = ay + t * (by - ay);
      if (
        x < outline.west - reachM ||
        x > outline.east + reachM ||
        y < outline.south - reachM ||
        y > outline.north + reachM
      )
        continue;
      if (pointDistance(outline, x, y) <= reachM) sum += legM / steps;
    }
  }
  return sum;
}

function countCrossings(route: readonly XY[], line: LocalFeature<'utility'>): number {
  const { points } = line.shape;
  let count = 0;
  for (let i = 1; i < route.length; i++) {
    for (let j = 1; j < points.length; j++) {
      if (segmentCrossing(route[i - 1], route[i], points[j - 1], points[j]) !== undefined) count++;
    }
  }
  return count;
}

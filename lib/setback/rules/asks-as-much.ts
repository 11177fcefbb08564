import type { Condition, Distance, Rule, RuleOf, Selector } from './rule';

const bindings: readonly Rule['binding'][] = ['advice', 'should', 'must'];
const edges = ['bottom', 'rim', 'berm'];
const absences: readonly Selector['absent'][] = ['skip', 'check', 'applies'];

/**
 * Whether a rule asks at least as much as another and as bindingly: whatever basin the other fails, this one fails too.
 * Where that hangs on more than their figures (two selectors that only together cover a third), the answer is no.
 */
export function asksAsMuch(rule: Rule, other: Rule): boolean {
  if (!ranks(bindings, rule.binding, other.binding)) return false;
  if ('edge' in rule && 'edge' in other && !ranks(edges, rule.edge, other.edge)) return false;
  if ('from' in rule && 'from' in other && !coverAll(rule.from, other.from)) return false;
  return hasFigures(rule, other);
}

function hasFigures(rule: Rule, other: Rule): boolean {
  switch (rule.test) {
    case 'distance':
      return is(other, rule.test) && reachesAsFar(rule.distance, other.distance);
    case 'inside-lot':
      return is(other, rule.test) && rule.m >= other.m;
    case 'utility':
      return (
        is(other, rule.test) &&
        rule.toleranceM >= other.toleranceM &&
        other.services.every((each) => rule.services.includes(each))
      );
    case 'not-uphill':
      return is(other, rule.test) && rule.reachM >= other.reachM;
    case 'slope':
      return is(other, rule.test) && rule.atMost <= other.atMost && rule.atLeast >= other.atLeast;
    case 'steep-ground':
      return is(other, rule.test) && rule.steeperThan <= other.steeperThan && rule.m >= other.m;
    case 'separation-below':
      return (
        is(other, rule.test) &&
        // the bottom lies deeper than the surface
        (rule.measuredFrom === 'bottom' || other.measuredFrom === 'surface') &&
        rule.atLeastM >= other.atLeastM &&
        other.to.every((each) => rule.to.includes(each))
      );
    case 'drain-down':
      return is(other, rule.test) && rule.atMostH <= other.atMostH;
    case 'overflow':
      return is(other, rule.test);
    case 'wet-spot':
      return (
        is(other, rule.test) &&
        rule.deeperThanM <= other.deeperThanM &&
        (rule.slowerThanMmPerH ?? Infinity) >= (other.slowerThanMmPerH ?? Infinity)
      );
    case 'on-site':
      return is(other, rule.test) && rule.ask === other.ask;
  }
}

function is<T extends Rule['test']>(rule: Rule, test: T): rule is RuleOf<T> {
  return rule.test === test;
}

/** Whether a value stands as high in a list as another. */
function ranks<T>(ascending: readonly T[], value: T, other: T): boolean {
  return ascending.indexOf(value) >= ascending.indexOf(other);
}

function reachesAsFar(distance: Distance, other: Distance): boolean {
  if (distance.by === 'side' && other.by === 'side') {
    return distance.uphillM >= other.uphillM && distance.downhillM >= other.downhillM;
  }
  if (other.by === 'canopy') {
    return distance.by === 'canopy' || (distance.by === 'trunk' && distance.orCanopy);
  }
  if (other.by === 'trunk') {
    return (
      distance.by === 'trunk' &&
      distance.perDiameter >= other.perDiameter &&
      distance.atLeastM >= other.atLeastM &&
      (distance.orCanopy || !other.orCanopy)
    );
  }
  return Math.min(...alwaysM(distance)) >= Math.max(...alwaysM(other));
}

/** What a distance asks at least, whatever the feature; two figures where it hangs on the side. */
function alwaysM(distance: Distance): readonly number[] {
  switch (distance.by) {
    case 'constant':
      return [distance.m];
    case 'trunk':
      return [distance.atLeastM];
    case 'side':
      return [distance.uphillM, distance.downhillM];
    case 'canopy':
    case 'not-over':
      return [0];
  }
}

function coverAll(selectors: readonly Selector[], others: readonly Selector[]): boolean {
  return others.every((other) => selectors.some((each) => covers(each, other)));
}

function covers(selector: Selector, other: Selector): boolean {
  if (selector.kind !== other.kind) return false;
  const conditions = Object.entries(selector.where ?? {});
  if (conditions.length === 0) return true;
  if (!ranks(absences, selector.absent, other.absent)) return false;
  return conditions.every(([name, condition]) => {
    const within = other.where?.[name];
    return within !== undefined && holdsAll(condition, within);
  });
}

/** Whether every value that one condition lets through is let through by another. */
function holdsAll(condition: Condition, within: Condition): boolean {
  if (Array.isArray(condition)) {
    return Array.isArray(within) && within.every((value) => condition.includes(value));
  }
  if (Array.isArray(within)) return false;
  return (
    (condition.at_least ?? -Infinity) <= (within.at_least ?? -Infinity) &&
    (condition.at_most ?? Infinity) >= (within.at_most ?? Infinity)
  );
}

import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import type { BasinSite } from './basin-site';
import { accuracyM, requirement, type Concerned, type Side } from './concerned';
import { locateState, partiesMissing, type LocateState } from './locates';
import { insideSeparation, outlineOf, type Separation } from './measure';
import type { Rule, RuleOf } from './rule';
import type { SetbackResult, Verdict } from './setback-result';
import { nearestSteep } from './steep-ground';

/** A distance this little short is rounding, not a breach: half a millimetre. */
const roundingM = 0.0005;
/** An overlap shallower than this is touching. */
const touchingM = 0.0005;
/** Judges one rule at one basin: adds a row for each feature that the rule concerns, or one for the lot. */
export function judge(
  site: BasinSite,
  rule: Rule,
  features: readonly Concerned[],
  results: SetbackResult[],
): void {
  switch (rule.test) {
    case 'distance':
      for (const each of features) results.push(judgeDistance(site, rule, each));
      return;
    case 'not-uphill':
      for (const each of features) results.push(judgeUphill(site, rule, each));
      return;
    case 'inside-lot':
      results.push(judgeLotLine(site, rule));
      return;
    case 'utility':
      for (const line of site.input.plan.of.utility) results.push(judgeUtility(site, rule, line));
      results.push(judgeUnmarked(site, rule));
      return;
    case 'slope':
      results.push(judgeSlope(site, rule));
      return;
    case 'steep-ground':
      results.push(judgeSteepGround(site, rule));
      return;
    case 'on-site':
      results.push(
        site.row(rule, null, { result: 'check', why: `${rule.ask}.`, about: 'on site' }),
      );
  }
}

function judgeDistance(site: BasinSite, rule: RuleOf<'distance'>, each: Concerned): SetbackResult {
  const { feature } = each;
  const found = site.to(feature);
  const berm = rule.edge === 'berm' ? (site.basin.bermWidthM ?? 0) : 0;
  const measuredM = Math.max(0, found.distanceM - berm);
  const overlapM = found.penetrationM + Math.max(0, berm - found.distanceM);
  const side = rule.distance.by === 'side' ? site.sideOf(feature) : 'unknown';
  const asked = requirement(rule.distance, feature, side);
  const notOver = rule.distance.by === 'not-over';
  const requiredM = asked.m + (notOver ? 0 : accuracyM(feature));
  const breach = notOver
    ? overlapM > touchingM || measuredM < accuracyM(feature) - roundingM
    : measuredM < requiredM - roundingM || overlapM > touchingM;
  const verdict = distanceVerdict(breach, each, asked.lacking);
  return site.row(rule, feature, {
    ...verdict,
    requiredM,
    measuredM,
    penetrationM: overlapM,
    nearest: [found.from, found.to],
    why: verdict.why ?? distanceWords(breach, overlapM > touchingM, notOver, side, rule),
  });
}

/** A breach is only a failure when the rule surely applies; keeping a distance only passes when all of it is known. */
function distanceVerdict(
  breach: boolean,
  each: Concerned,
  lacking: string | undefined,
): { result: Verdict; why?: string } {
  if (breach && each.certain) return { result: 'fail' };
  if (breach) {
    return {
      result: 'check',
      why: `Too near if the rule applies here: the plan does not give the ${words(each.lacking)}.`,
    };
  }
  if (lacking !== undefined) {
    return {
      result: 'check',
      why: `The distance asked for is not fully known: the plan lacks ${lacking}.`,
    };
  }
  return { result: 'pass' };
}

function distanceWords(
  breach: boolean,
  overlaps: boolean,
  notOver: boolean,
  side: Side,
  rule: RuleOf<'distance'>,
): string {
  const how =
    rule.distance.by === 'side'
      ? `, the basin lying ${side === 'level' ? 'level with it' : side}`
      : '';
  if (overlaps) return 'The basin lies over it.';
  if (notOver)
    return breach
      ? 'The basin may lie over it, its place being that uncertain.'
      : 'The basin does not lie over it.';
  return breach
    ? `Nearer than asked for (${rule.published})${how}.`
    : `As far as asked for (${rule.published}) or farther${how}.`;
}

function judgeUphill(site: BasinSite, rule: RuleOf<'not-uphill'>, each: Concerned): SetbackResult {
  const { feature } = each;
  const found = site.to(feature);
  const reachM = rule.reachM + accuracyM(feature);
  const nearest = [found.from, found.to] as const;
  const measuredM = found.distanceM;
  if (measuredM >= reachM - roundingM) {
    return site.row(rule, feature, {
      result: 'pass',
      why: 'Beyond the reach within which the rule looks uphill.',
      requiredM: reachM,
      measuredM,
      nearest,
    });
  }
  const side = site.sideOf(feature);
  if (side === 'uphill') {
    return site.row(rule, feature, {
      result: each.certain ? 'fail' : 'check',
      why: each.certain
        ? 'The ground at the basin is higher than at the nearest wall.'
        : `The basin lies uphill, which is a breach if the rule applies: the plan does not give the ${words(each.lacking)}.`,
      requiredM: reachM,
      measuredM,
      nearest,
    });
  }
  return site.row(rule, feature, {
    result: side === 'unknown' ? 'check' : 'pass',
    why:
      side === 'unknown'
        ? 'Without elevation here it cannot be told whether the basin lies uphill.'
        : `The basin lies ${side === 'level' ? 'level with it, within what the elevation can tell' : 'downhill'}.`,
    measuredM,
    nearest,
  });
}

function judgeLotLine(site: BasinSite, rule: RuleOf<'inside-lot'>): SetbackResult {
  const berm = rule.edge === 'berm' ? (site.basin.bermWidthM ?? 0) : 0;
  let best: { lot: LocalFeature; found: Separation } | undefined;
  for (const lot of site.input.plan.of.lot) {
    if (!lot.feature.properties.own) continue;
    const found = insideSeparation(site.outline, outlineOf(lot.shape));
    if (best === undefined || found.distanceM > best.found.distanceM) best = { lot, found };
  }
  if (best === undefined) {
    return site.row(rule, null, {
      result: 'check',
      why: 'The plan has no own lot, so the distance to its line is unknown.',
      requiredM: rule.m,
    });
  }
  const measuredM = best.found.distanceM - berm;
  const requiredM = rule.m + accuracyM(best.lot);
  const breach = measuredM < requiredM - roundingM;
  return site.row(rule, best.lot, {
    result: breach ? 'fail' : 'pass',
    why:
      measuredM < 0
        ? 'Part of the basin lies outside the lot.'
        : breach
          ? `Nearer to the lot line than asked for (${rule.published}).`
          : 'Inside the lot, and far enough from its line.',
    requiredM,
    measuredM,
    penetrationM: best.found.penetrationM,
    nearest: [best.found.from, best.found.to],
  });
}

const locateWords: Readonly<Record<Exclude<LocateState, 'current'>, string>> = {
  never: 'Clear of the line as drawn, but no locate is on record for it.',
  expired: 'Clear of the line as drawn, but its locate has run out.',
  'not-yet': 'Clear of the line as drawn, but its locate is dated later than today.',
  'wrong-party':
    'Clear of the line as drawn, but it was not located by the party for its side of the meter (public service for the owners’ side of the utility, private locator for yours).',
  'side-unknown':
    'Clear of the line as drawn, but the plan does not say which side of the meter it is on, so not who must locate it.',
};

function judgeUtility(
  site: BasinSite,
  rule: RuleOf<'utility'>,
  line: LocalPlan['of']['utility'][number],
): SetbackResult {
  const found = site.to(line);
  const berm = rule.edge === 'berm' ? (site.basin.bermWidthM ?? 0) : 0;
  const measuredM = Math.max(0, found.distanceM - berm);
  const requiredM = rule.toleranceM + accuracyM(line);
  const state = locateState(line.feature, site.input.today);
  const rest = {
    requiredM,
    measuredM,
    penetrationM: found.penetrationM,
    nearest: [found.from, found.to] as const,
  };
  if (measuredM < requiredM - roundingM) {
    const why = 'The basin reaches into the tolerance zone of the line.';
    return site.row(rule, line, { result: 'fail', why, ...rest });
  }
  return state === 'current'
    ? site.row(rule, line, {
        result: 'pass',
        why: 'Outside the tolerance zone of a line with a current locate.',
        ...rest,
      })
    : site.row(rule, line, { result: 'check', why: locateWords[state], ...rest });
}

/** What no line on the plan can say: whether there are others. */
function judgeUnmarked(site: BasinSite, rule: RuleOf<'utility'>): SetbackResult {
  const { plan, locates, today } = site.input;
  const missing = partiesMissing(plan, locates ?? [], today);
  const who = missing.map((party) =>
    party === 'public' ? 'the public notice service' : 'a private locator for the owner’s side',
  );
  return site.row(rule, null, {
    about: 'lines not on the plan',
    result: missing.length === 0 ? 'pass' : 'check',
    why:
      missing.length === 0
        ? 'Current locates by both parties are on record.'
        : `Unmarked is not absent: no current locate by ${who.join(' nor by ')} is on record.`,
  });
}

function judgeSlope(site: BasinSite, rule: RuleOf<'slope'>): SetbackResult {
  const { plane } = site;
  if (plane === null) {
    return site.row(rule, null, {
      about: 'the ground at the basin',
      result: 'check',
      why: 'There is no elevation here to tell the slope from.',
      requiredSlope: rule.atMost,
    });
  }
  const steep = plane.slopeRatio > rule.atMost;
  return site.row(rule, null, {
    about: 'the ground at the basin',
    result: steep ? 'fail' : 'pass',
    why: steep
      ? `The ground is steeper than the rule allows (${rule.published}).`
      : 'The ground is flat enough.',
    requiredSlope: rule.atMost,
    measuredSlope: plane.slopeRatio,
  });
}

function judgeSteepGround(site: BasinSite, rule: RuleOf<'steep-ground'>): SetbackResult {
  const { elevation } = site.input;
  const about = 'steep ground';
  const found =
    elevation === undefined ? null : nearestSteep(elevation, site.outline, rule.steeperThan);
  if (found === null) {
    return site.row(rule, null, {
      about,
      result: 'check',
      why: 'There is no elevation here to find steep ground with.',
      requiredM: rule.m,
      requiredSlope: rule.steeperThan,
    });
  }
  if (found.distanceM === Infinity) {
    const why = 'No ground within the elevation data is that steep.';
    return site.row(rule, null, { about, result: 'pass', why, requiredSlope: rule.steeperThan });
  }
  const berm = rule.edge === 'berm' ? (site.basin.bermWidthM ?? 0) : 0;
  const measuredM = Math.max(0, found.distanceM - berm);
  const near = measuredM < rule.m - roundingM;
  return site.row(rule, null, {
    about,
    result: near ? 'fail' : 'pass',
    why: near
      ? `Steep ground is nearer than asked for (${rule.published}).`
      : 'Steep ground is far enough away.',
    requiredM: rule.m,
    measuredM,
    requiredSlope: rule.steeperThan,
    nearest: [found.from, found.to],
  });
}

function words(property: string | undefined): string {
  return (property ?? 'property').replaceAll('_', ' ');
}

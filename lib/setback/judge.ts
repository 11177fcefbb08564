import type { LocalFeature } from '../plan/local-plan';
import { clearWords, requestWords } from './answer-words';
import type { BasinSite } from './basin-site';
import { accuracyM, requirement, type Concerned, type Side } from './concerned';
import { digPieces } from './dig-pieces';
import { judgeBelow, judgeSlope, judgeSteepGround, judgeWetSpot } from './judge-ground';
import { judgeDrainDown, judgeOverflow } from './judge-water';
import { isAnswered, locateState, serviceAnswers, type LocateState } from './locates';
import { roundingM, type Separation } from './measure';
import type { Rule, RuleOf } from './rule';
import type { SetbackResult, Verdict } from './setback-result';

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
      for (const each of features) {
        if (each.feature.id !== site.basin.id) results.push(judgeDistance(site, rule, each));
      }
      return;
    case 'not-uphill':
      for (const each of features) {
        if (each.feature.id !== site.basin.id) results.push(judgeUphill(site, rule, each));
      }
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
    case 'separation-below':
      for (const to of rule.to) results.push(judgeBelow(site, rule, to));
      return;
    case 'wet-spot':
      results.push(judgeWetSpot(site, rule));
      return;
    case 'drain-down':
      results.push(judgeDrainDown(site, rule));
      return;
    case 'overflow':
      results.push(judgeOverflow(site, rule, features));
      return;
    case 'on-site':
      results.push(
        site.row(rule, null, { result: 'check', why: `${rule.ask}.`, about: 'on site' }),
      );
  }
}

/** How a measured distance stands to what is asked for, by the figures alone. */
type Kept = 'kept' | 'within-accuracy' | 'breach';

/** A distance that is kept by less than the feature's place is known to cannot be judged. */
function keptBy(measuredM: number, requiredM: number, feature: LocalFeature): Kept {
  if (measuredM < requiredM - roundingM) return 'breach';
  return measuredM < requiredM + accuracyM(feature) - roundingM ? 'within-accuracy' : 'kept';
}

const withinAccuracy = 'Kept as drawn, but by less than the place of the feature is known to.';

function judgeDistance(site: BasinSite, rule: RuleOf<'distance'>, each: Concerned): SetbackResult {
  const { feature } = each;
  const { distanceM, penetrationM, from, to } = site.to(feature, rule.edge);
  const side = rule.distance.by === 'side' ? site.sideOf(feature) : 'unknown';
  const asked = requirement(rule.distance, feature, side);
  const over = penetrationM > touchingM;
  const kept = over ? 'breach' : keptBy(distanceM, asked.m, feature);
  const verdict = distanceVerdict(kept, each, asked.lacking);
  return site.row(rule, feature, {
    ...verdict,
    requiredM: asked.m,
    measuredM: distanceM,
    penetrationM,
    nearest: [from, to],
    why: verdict.why ?? distanceWords(over, kept === 'breach', side, rule),
  });
}

/** A breach is only a failure when the rule surely applies; keeping a distance only passes when all of it is known. */
function distanceVerdict(
  kept: Kept,
  each: Concerned,
  lacking: string | undefined,
): { result: Verdict; why?: string } {
  if (kept === 'breach' && each.certain) return { result: 'fail' };
  if (kept === 'breach') {
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
  return kept === 'kept' ? { result: 'pass' } : { result: 'check', why: withinAccuracy };
}

function distanceWords(
  overlaps: boolean,
  breach: boolean,
  side: Side,
  rule: RuleOf<'distance'>,
): string {
  const how =
    rule.distance.by === 'side'
      ? `, the basin lying ${side === 'level' ? 'level with it' : side}`
      : '';
  if (overlaps) return 'The basin lies over it.';
  if (rule.distance.by === 'not-over') return 'The basin does not lie over it.';
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
  let best: { lot: LocalFeature<'lot'>; found: Separation } | undefined;
  for (const lot of site.input.plan.of.lot) {
    if (!lot.feature.properties.own) continue;
    const found = site.inside(lot, rule.edge);
    if (best === undefined || found.distanceM > best.found.distanceM) best = { lot, found };
  }
  if (best === undefined) {
    return site.row(rule, null, {
      result: 'check',
      why: 'The plan has no own lot, so the distance to its line is unknown.',
      requiredM: rule.m,
    });
  }
  const measuredM = best.found.distanceM;
  const kept = keptBy(measuredM, rule.m, best.lot);
  const breachWords =
    measuredM < 0
      ? 'Part of the basin lies outside the lot.'
      : `Nearer to the lot line than asked for (${rule.published}).`;
  const verdicts = {
    breach: { result: 'fail', why: breachWords },
    'within-accuracy': { result: 'check', why: withinAccuracy },
    kept: { result: 'pass', why: 'Inside the lot, and far enough from its line.' },
  } as const;
  return site.row(rule, best.lot, {
    ...verdicts[kept],
    requiredM: rule.m,
    measuredM,
    penetrationM: best.found.penetrationM,
    nearest: [best.found.from, best.found.to],
  });
}

const locateWords: Readonly<Record<Exclude<LocateState, 'current'>, string>> = {
  never: 'Clear of the line as drawn, but no locate is on record for it.',
  expired: 'Clear of the line as drawn, but its locate has run out.',
  'not-yet': 'Clear of the line as drawn, but its locate is dated later than today.',
  'dates-in-doubt':
    'Clear of the line as drawn, but its locate is dated more than a year ahead or said to hold for more than a year: are its dates right?',
  'wrong-party':
    'Clear of the line as drawn, but it was not located by the party for its side of the meter (public service for the owners’ side of the utility, private locator for yours).',
  'side-unknown':
    'Clear of the line as drawn, but the plan does not say which side of the meter it is on, so not who must locate it.',
};

function judgeUtility(
  site: BasinSite,
  rule: RuleOf<'utility'>,
  line: LocalFeature<'utility'>,
): SetbackResult {
  const found = site.to(line, rule.edge);
  const measuredM = found.distanceM;
  const kept = keptBy(measuredM, rule.toleranceM, line);
  const state = locateState(line.feature, site.input.today);
  const rest = {
    requiredM: rule.toleranceM,
    measuredM,
    penetrationM: found.penetrationM,
    nearest: [found.from, found.to] as const,
  };
  if (kept === 'breach') {
    const why = 'The basin reaches into the tolerance zone of the line.';
    return site.row(rule, line, { result: 'fail', why, ...rest });
  }
  if (state !== 'current') {
    return site.row(rule, line, { result: 'check', why: locateWords[state], ...rest });
  }
  return kept === 'within-accuracy'
    ? site.row(rule, line, { result: 'check', why: withinAccuracy, ...rest })
    : site.row(rule, line, {
        result: 'pass',
        why: 'Outside the tolerance zone of a line with a current locate.',
        ...rest,
      });
}

/** What no line on the plan can say: whether there are others. */
function judgeUnmarked(site: BasinSite, rule: RuleOf<'utility'>): SetbackResult {
  const { plan, locates = [], today } = site.input;
  const answers = serviceAnswers({
    plan,
    locates,
    services: rule.services,
    today,
    pieces: () => digPieces(plan, site.basin),
  });
  const isClear = answers.every(isAnswered);
  return site.row(rule, null, {
    about: 'lines not on the plan',
    result: isClear ? 'pass' : 'check',
    why: isClear ? clearWords(answers) : `Unmarked is not absent. ${requestWords(answers)}`,
  });
}

function words(property: string | undefined): string {
  return (property ?? 'property').replaceAll('_', ' ');
}

import type { LocalFeature } from '../../plan/local-plan';
import { clearWords, requestWords } from '../locate/answer-words';
import { sentencePart, type BasinSite } from './basin-site';
import {
  accuracyM,
  requirement,
  type Concerned,
  type Requirement,
  type Side,
} from '../rules/concerned';
import { digPieces } from '../locate/dig-pieces';
import { judgeBelow, judgeSlope, judgeSteepGround, judgeWetSpot } from './judge-ground';
import { drainDownRow, overflowRow } from './judge-water';
import { isAnswered, locateState, serviceAnswers, type LocateState } from '../locate/locates';
import { roundingM, type Separation } from '../measure/outline';
import type { Rule, RuleOf } from '../rules/rule';
import type { SetbackResult } from './setback-result';
import type { Verdict } from '../../verdict';

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
      results.push(drainDownRow(site, rule));
      return;
    case 'overflow':
      results.push(overflowRow(site, rule, features));
      return;
    case 'on-site':
      results.push(
        site.row(rule, null, { result: 'check', why: `${rule.ask}.`, about: 'on site' }),
      );
  }
}

/** How a measured distance stands to what is asked for: kept or broken whatever is not known, else open. */
type Kept = 'kept' | 'open' | 'breach';

/**
 * Decides by the bounds: of what is asked, where the plan lacks what it hangs on, and of the feature's true place.
 *
 * @param signedM - as drawn; negative where the basin reaches in.
 */
function keptBy(
  signedM: number,
  { m, mostM }: Pick<Requirement, 'm' | 'mostM'>,
  feature: LocalFeature,
): Kept {
  const offM = accuracyM(feature);
  if (signedM + offM < m - roundingM) return 'breach';
  return signedM - offM >= mostM - roundingM ? 'kept' : 'open';
}

/** A distance, negative where two overlap by more than touching. */
function signed({ distanceM, penetrationM }: Separation): number {
  return penetrationM > touchingM ? -penetrationM : distanceM;
}

const placeMeasured = 'have the place of it measured, closer than the margin that is left';

function withinAccuracy(signedM: number, requiredM: number): string {
  return signedM < requiredM - roundingM
    ? 'Too near as drawn, but by less than the place of the feature is known to.'
    : 'Kept as drawn, but by less than the place of the feature is known to.';
}

function judgeDistance(site: BasinSite, rule: RuleOf<'distance'>, each: Concerned): SetbackResult {
  const { feature } = each;
  const found = site.to(feature, rule.edge);
  const side = rule.distance.by === 'side' ? site.sideOf(feature) : 'unknown';
  const asked = requirement(rule.distance, feature, side);
  return site.row(rule, feature, {
    ...distanceVerdict(rule, each, asked, signed(found), side),
    requiredM: asked.m,
    measuredM: found.distanceM,
    penetrationM: found.penetrationM,
    nearest: [found.from, found.to],
  });
}

/** A breach is only a failure when the rule surely applies. */
function distanceVerdict(
  rule: RuleOf<'distance'>,
  { feature, certain, lacking }: Concerned,
  asked: Requirement,
  signedM: number,
  side: Side,
): { result: Verdict; why: string; settle?: string } {
  const kept = keptBy(signedM, asked, feature);
  if (kept === 'kept') {
    const why =
      asked.lacking === undefined
        ? distanceWords(rule, signedM, true, side)
        : `Far enough, though the plan lacks ${asked.lacking}.`;
    return { result: 'pass', why };
  }
  if (kept === 'breach' && certain) {
    return { result: 'fail', why: distanceWords(rule, signedM, false, side) };
  }
  const why =
    kept === 'breach'
      ? `Too near if the rule applies here: the plan does not give the ${lacking}.`
      : asked.lacking === undefined
        ? withinAccuracy(signedM, asked.m)
        : `The distance asked for is not fully known: the plan lacks ${asked.lacking}.`;
  const settle =
    kept === 'breach' || asked.lacking !== undefined
      ? `state ${kept === 'breach' ? `the ${lacking}` : asked.lacking}`
      : placeMeasured;
  return { result: 'check', why, settle };
}

function distanceWords(
  rule: RuleOf<'distance'>,
  signedM: number,
  isKept: boolean,
  side: Side,
): string {
  if (signedM < 0) return 'The basin lies over it.';
  if (rule.distance.by === 'not-over') return 'The basin does not lie over it.';
  const how =
    side === 'unknown' ? '' : `, the basin lying ${side === 'level' ? 'level with it' : side}`;
  return isKept
    ? `As far as asked for (${rule.published}) or farther${how}.`
    : `Nearer than asked for (${rule.published})${how}.`;
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
    const isNear =
      keptBy(signed(found), { m: rule.reachM, mostM: rule.reachM }, feature) === 'breach';
    return site.row(rule, feature, {
      result: isNear && each.certain ? 'fail' : 'check',
      why: !each.certain
        ? `The basin lies uphill, which is a breach if the rule applies: the plan does not give the ${each.lacking}.`
        : isNear
          ? 'The ground at the basin is higher than at the nearest wall.'
          : 'The basin lies uphill, and whether within the reach hangs on the place of the feature.',
      settle: each.certain ? placeMeasured : `state the ${each.lacking}`,
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
    settle: 'show by levels or an elevation that the basin does not lie uphill',
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
      settle: 'draw the lot line',
      requiredM: rule.m,
    });
  }
  const measuredM = best.found.distanceM;
  const kept = keptBy(measuredM, { m: rule.m, mostM: rule.m }, best.lot);
  const breachWords =
    measuredM < 0
      ? 'Part of the basin lies outside the lot.'
      : `Nearer to the lot line than asked for (${rule.published}).`;
  const verdicts = {
    breach: { result: 'fail', why: breachWords },
    open: {
      result: 'check',
      why: withinAccuracy(measuredM, rule.m),
      settle: 'have the lot line set out by those who may, or move the basin farther in',
    },
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

const handIn = 'and hand in the day and until when it holds';
const locateSettles: typeof locateWords = {
  never: `have the line located by the party for its side of the meter, ${handIn}`,
  expired: `have its locate renewed, ${handIn}`,
  'not-yet': 'correct the day of its locate, or wait for it',
  'dates-in-doubt': 'correct the dates of its locate',
  'wrong-party': `have the line located by the party for its side of the meter, ${handIn}`,
  'side-unknown': `say on which side of the meter the line lies and have that party locate it, ${handIn}`,
};

function judgeUtility(
  site: BasinSite,
  rule: RuleOf<'utility'>,
  line: LocalFeature<'utility'>,
): SetbackResult {
  const found = site.to(line, rule.edge);
  const measuredM = found.distanceM;
  const state = locateState(line.feature, site.input.today);
  const rest = {
    requiredM: rule.toleranceM,
    measuredM,
    penetrationM: found.penetrationM,
    nearest: [found.from, found.to] as const,
  };
  // The zone is laid on the line as marked, so that how well its place is known does not move it.
  if (measuredM < rule.toleranceM - roundingM) {
    const why = 'The basin reaches into the tolerance zone of the line.';
    return site.row(rule, line, { result: 'fail', why, ...rest });
  }
  if (state !== 'current') {
    return site.row(rule, line, {
      result: 'check',
      why: locateWords[state],
      settle: locateSettles[state],
      ...rest,
    });
  }
  const asked = { m: rule.toleranceM, mostM: rule.toleranceM };
  return keptBy(measuredM, asked, line) === 'open'
    ? site.row(rule, line, {
        result: 'check',
        why: withinAccuracy(measuredM, rule.toleranceM),
        settle: placeMeasured,
        ...rest,
      })
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
    ...(isClear ? {} : { settle: sentencePart(requestWords(answers)) }),
  });
}

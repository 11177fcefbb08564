import { drainVerdict } from '../../basin/design/judge-drain-down';
import type { XY } from '../../frame/frame';
import { distanceM } from '../../frame/shapes';
import { homeLot } from '../../plan/home-lot';
import type { BasinSite } from './basin-site';
import type { OverflowJudged } from '../rules/checked-basins';
import type { Concerned } from '../rules/concerned';
import { outlineOf, sharedPoint, type Outline } from '../measure/outline';
import type { RuleOf } from '../rules/rule';
import type { SetbackResult } from './setback-result';
import { soilRate } from './soil-rate';
import { hourS } from '../../units/units';

/** Whether ponded water goes in time: the local limit of the plan's settings counts before the rule's own. */
export function drainDownRow(site: BasinSite, rule: RuleOf<'drain-down'>): SetbackResult {
  const localH = site.input.soil?.drain_limit_h;
  const limitH = localH ?? rule.atMostH;
  const filledH = site.basin.drainDownH;
  const soil = soilRate(site.input);
  // A soil map alone gives no time: what is published for a group is the least that its soils take.
  const slowestH = soil.by === 'group' ? undefined : depthOver(site, soil.leastMPerS);
  const hours = filledH ?? (soil.by === 'none' ? undefined : slowestH);
  const isRough = soil.by === 'texture' || soil.by === 'group';
  const result = drainVerdict(hours, limitH, {
    fastestH: isRough ? depthOver(site, soil.mostMPerS) : undefined,
    byMap: soil.by === 'group',
  });
  const whose =
    localH === undefined ? rule.published : 'the local limit, which counts before the rule’s own';
  const how =
    filledH === undefined
      ? ', by the ponding depth over the soil’s rate'
      : ', by filling and draining it';
  const why = (): string => {
    if (result === 'pass') return `Water is gone in time (${whose})${how}.`;
    if (result === 'fail') {
      return isRough
        ? 'Water stands longer than allowed, even by the most that such soils take.'
        : filledH === Infinity
          ? 'By filling and draining it, water still stands at the end of the time looked at.'
          : `Water stands longer than allowed (${whose})${how}.`;
    }
    return hours === undefined
      ? 'How long water stands in the basin is not known: test how fast the soil takes water, and give the basin its depth and layers.'
      : hours > limitH
        ? 'Water may stand longer than allowed, by the least that such soils take: test how fast the soil at the place takes water.'
        : `Water is gone in time (${whose}) by the least that soils of such a group take, but a soil map is no test: test the soil at the place.`;
  };
  return site.row(rule, null, {
    about: 'ponded water',
    requiredH: limitH,
    measuredH: hours === Infinity ? undefined : hours,
    limit: 'most',
    result,
    why: why(),
    settle:
      'hand in a test of how fast the soil at the place takes water, with the depth and layers of the basin',
  });
}

/** Hours that a soil needs for the ponded depth, layers not counted; `undefined` when the depth is not known. */
function depthOver({ basin }: BasinSite, rateMPerS: number): number | undefined {
  return basin.pondingDepthM === undefined ? undefined : basin.pondingDepthM / rateMPerS / hourS;
}

/**
 * What the overflow's way comes to first, of the features that it must not reach. Where the basin has been designed its
 * verdict on the overflow is this one's too; what a rule names beyond that is looked for along the way.
 */
export function overflowRow(
  site: BasinSite,
  rule: RuleOf<'overflow'>,
  features: readonly Concerned[],
): SetbackResult {
  const ways = site.basin.overflowWays?.filter((way) => way.length > 0) ?? [];
  const about = 'the way of the overflow';
  if (ways.length === 0) {
    return site.row(rule, null, {
      about,
      result: 'check',
      why: 'Where overflow runs is not known: read an elevation, so that it can be followed over the finished ground.',
      settle: 'show by levels or an elevation where overflow runs',
    });
  }
  const home = homeLot(site.input.plan, site.basin.rim);
  // the lot that it lies on is nobody else's
  const outlines = features
    .filter(({ feature }) => feature !== home)
    .map((each) => ({ each, outline: outlineOf(each.feature.shape) }));
  const onCertain = firstOnAny(
    ways,
    outlines.filter(({ each }) => each.certain),
  );
  const judged = site.basin.overflowVerdict;
  if (judged !== undefined && judged.result !== 'pass' && onCertain === undefined) {
    return overflowAsDesigned(site, rule, judged, features);
  }
  const met = onCertain ?? firstOnAny(ways, outlines);
  if (met !== undefined) {
    const { feature, certain, lacking } = met.each;
    return site.row(rule, feature, {
      result: certain ? 'fail' : 'check',
      why: certain
        ? 'Overflow, when full, runs onto it.'
        : `Overflow, when full, runs onto it, which is a breach if the rule applies: the plan does not give the ${lacking}.`,
      settle: `state the ${lacking}`,
      nearest: [met.at, met.at],
    });
  }
  return site.row(rule, null, {
    about,
    result: 'pass',
    why:
      judged?.why ??
      'Overflow, when full, runs onto nothing that it must not reach, as far as the ground is known.',
  });
}

/** The row where the design does not pass its overflow: a breach of this rule if it names what is reached, else to be looked at. */
function overflowAsDesigned(
  site: BasinSite,
  rule: RuleOf<'overflow'>,
  judged: OverflowJudged,
  features: readonly Concerned[],
): SetbackResult {
  const named = features.find(({ feature }) => feature.id === judged.feature);
  return site.row(rule, named?.feature ?? null, {
    ...(named === undefined ? { about: 'the way of the overflow' } : {}),
    result: named?.certain === true ? judged.result : 'check',
    why: judged.why,
    ...(judged.at === null ? {} : { nearest: [judged.at, judged.at] }),
  });
}

function firstOnAny<T extends { readonly outline: Outline }>(
  ways: readonly (readonly XY[])[],
  outlines: readonly T[],
): (T & { readonly at: XY }) | undefined {
  for (const way of ways) {
    const met = firstOn(way, outlines);
    if (met !== undefined) return met;
  }
  return undefined;
}

/** The first of some outlines that a way comes to, and where. */
function firstOn<T extends { readonly outline: Outline }>(
  way: readonly XY[],
  outlines: readonly T[],
): (T & { readonly at: XY; readonly awayM: number }) | undefined {
  const whole = outlineOf({ type: 'line', points: way });
  const reached = outlines.filter(({ outline }) => sharedPoint(whole, outline) !== undefined);
  for (let i = 0; i < way.length && reached.length > 0; i++) {
    const start = way[Math.max(0, i - 1)];
    const step = outlineOf({ type: 'line', points: [start, way[i]] });
    const met = reached
      .flatMap((each) => {
        const at = sharedPoint(step, each.outline);
        return at === undefined ? [] : [{ ...each, at, awayM: distanceM(start, at) }];
      })
      .sort((a, b) => a.awayM - b.awayM)
      .at(0);
    if (met !== undefined) return met;
  }
  return undefined;
}

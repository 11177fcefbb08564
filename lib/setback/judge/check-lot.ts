import type { XY } from '../../frame/frame';
import { centroid, contains, distanceM, nearest } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { sourceLine, type Source } from '../../source';
import { eventDepthMm } from '../../storm/event-depth';
import { hourS, litreM3 } from '../../units/units';
import type { Verdict } from '../../verdict';
import {
  boundaryDistance,
  boundaryPoint,
  insideSeparation,
  outlineOf,
  roundingM,
  separation,
  type Separation,
} from '../measure/outline';
import { halfWidthM, nameOf } from '../rules/concerned';
import type { LotRule, LotRuleOf } from '../rules/lot-rule';
import type { Binding, RuleSet } from '../rules/rule';
import { countFindings } from './count-findings';
import { outletsOf, type Outlet } from './outlets';
import type { FindingCounts } from './setback-result';

/** Gathered water where it comes out or over a line. */
export interface GatheredWater {
  /** Of the plan's event; null where what gathers there is not known without the heights of the ground. */
  readonly volume_m3: number | null;
  readonly l_per_s: number | null;
  readonly width_m: number | null;
}

/** One rule about drainage at one place of the lot. Field names are those of the JSON output. */
export interface LotFinding {
  readonly rule: string;
  readonly title: string;
  readonly feature: string | null;
  readonly feature_name: string;
  /** What it is measured to, or what stands in the way of what. */
  readonly other: string | null;
  readonly other_name: string;
  readonly required_m: number | null;
  readonly measured_m: number | null;
  readonly margin_m: number | null;
  readonly gathered: GatheredWater | null;
  readonly result: Verdict;
  readonly why: string;
  readonly ask: string;
  readonly published: string;
  readonly binding: Binding;
  readonly note: string | null;
  /** On the feature, then on the other. */
  readonly nearest: readonly [XY, XY] | null;
  readonly source: Source;
}

export interface LotFindings {
  readonly rule_set: string;
  readonly results: readonly LotFinding[];
  readonly summary: FindingCounts;
  readonly notes: readonly string[];
}

/** Rain that gathered water is told for, beside the plan's event: about 4 in/h. Common practice, no source. */
export const toldForMmPerH = 100;
/** A pipe or swale that ends so near to a watercourse ends in it, metres. Our choice, no source. */
const intoWayM = 1;

/**
 * Checks the drainage of a plan by the rules that need no basin: outlets, what must stay open, and gathered water over
 * lines. A plan without any of it gives no row. Distances are horizontal, in the local frame.
 *
 * @param generic - the rules that count where the set has none of its own.
 */
export function checkLot(
  plan: LocalPlan,
  ruleSet: RuleSet,
  generic: readonly LotRule[],
): LotFindings {
  const rules = ruleSet.lot_rules ?? generic;
  const site: LotSite = { plan, outlets: outletsOf(plan) };
  const results = rules.flatMap((rule) => judgeLot(site, rule));
  const order: Verdict[] = ['fail', 'check', 'pass'];
  results.sort((a, b) => order.indexOf(a.result) - order.indexOf(b.result));
  return {
    rule_set: ruleSet.id,
    results,
    summary: countFindings(results),
    notes:
      ruleSet.lot_rules === undefined && results.length > 0
        ? [
            `${ruleSet.title} has no rules of its own about outlets, swales and gathered water: the generic ones are taken`,
          ]
        : [],
  };
}

interface LotSite {
  readonly plan: LocalPlan;
  readonly outlets: readonly Outlet[];
}

function judgeLot(site: LotSite, rule: LotRule): LotFinding[] {
  switch (rule.test) {
    case 'outlet-distance':
      return outletRows(site, rule);
    case 'keep-open':
      return openRows(site, rule);
    case 'soakaway-distance':
      return soakawayRows(site, rule);
    case 'gathered-flow':
      return gatheredRows(site, rule);
  }
}

type RowRest = Pick<LotFinding, 'result' | 'why'> &
  Partial<Pick<LotFinding, 'required_m' | 'measured_m' | 'gathered' | 'nearest'>> & {
    readonly otherName?: string;
  };

function rowOf(
  rule: LotRule,
  feature: LocalFeature | null,
  other: LocalFeature | null,
  { required_m = null, measured_m = null, otherName, ...rest }: RowRest,
): LotFinding {
  return {
    rule: rule.id,
    title: rule.title,
    feature: feature?.id ?? null,
    feature_name: feature === null ? 'the whole lot' : nameOf(feature),
    other: other?.id ?? null,
    other_name: otherName ?? (other === null ? '' : nameOf(other)),
    required_m,
    measured_m,
    margin_m: required_m === null || measured_m === null ? null : measured_m - required_m,
    gathered: rest.gathered ?? null,
    result: rest.result,
    why: rest.why,
    ask: rule.ask,
    published: rule.published,
    binding: rule.binding,
    note: rule.note ?? null,
    nearest: rest.nearest ?? null,
    source: rule.source,
  };
}

function outletRows({ plan, outlets }: LotSite, rule: LotRuleOf<'outlet-distance'>): LotFinding[] {
  return outlets
    .filter(({ feature }) => rule.outlets.includes(feature.kind))
    .flatMap((outlet): LotFinding[] => {
      const met = nearestOf(plan, outlet, rule.to);
      if (met === 'none') return [];
      if (met === 'no-lot') {
        return [
          rowOf(rule, outlet.feature, null, {
            result: 'check',
            why: 'It ends on no lot that is drawn: whose land is it? Draw the lots around it.',
            required_m: rule.at_least_m,
            otherName: 'land that is not drawn',
          }),
        ];
      }
      const { other, on, awayM } = met;
      const kept = awayM >= rule.at_least_m - roundingM;
      const far = kept
        ? 'As far off as asked for, or farther.'
        : `Nearer than asked for (${rule.published}).`;
      return [
        rowOf(rule, outlet.feature, other, {
          result: kept ? 'pass' : outlet.isSaid ? rule.breach : 'check',
          why:
            kept || outlet.isSaid
              ? far
              : 'The plan does not say where its water comes out, so it is taken at the downspout itself: give it an outlet or a pipe.',
          required_m: rule.at_least_m,
          measured_m: awayM,
          nearest: [outlet.at, on],
        }),
      ];
    });
}

interface Met {
  readonly other: LocalFeature;
  readonly on: XY;
  readonly awayM: number;
}

function nearestOf(
  plan: LocalPlan,
  { at }: Outlet,
  to: LotRuleOf<'outlet-distance'>['to'],
): Met | 'none' | 'no-lot' {
  const [x, y] = at;
  if (to === 'lot-line') {
    if (plan.of.lot.length === 0) return 'no-lot';
    const lot = lotAt(plan, at);
    if (lot === undefined) return 'no-lot';
    const outline = outlineOf(lot.shape);
    return {
      other: lot,
      on: boundaryPoint(outline, x, y),
      awayM: boundaryDistance(outline, x, y),
    };
  }
  const among = to === 'building' ? plan.of.building : publicWays(plan);
  let best: Met | 'none' = 'none';
  for (const other of among) {
    const found = nearest({ type: 'point', at }, other.shape);
    if (best === 'none' || found.distanceM < best.awayM) {
      best = { other, on: found.to, awayM: found.distanceM };
    }
  }
  return best;
}

function lotAt(plan: LocalPlan, at: XY): LocalFeature<'lot'> | undefined {
  return plan.of.lot.find(({ shape }) => contains(shape.rings, at));
}

/** Paving whose middle lies on no lot: pavement, street, lane. */
function publicWays(plan: LocalPlan): LocalFeature<'surface'>[] {
  return plan.of.surface.filter(
    ({ feature, shape }) =>
      feature.properties.cover === 'paving' && lotAt(plan, centroid(shape.rings)) === undefined,
  );
}

function openRows({ plan }: LotSite, rule: LotRuleOf<'keep-open'>): LotFinding[] {
  const ways = rule.ways.flatMap((kind): LocalFeature[] => [...plan.of[kind]]);
  const obstacles = rule.against.flatMap((kind): LocalFeature[] => [...plan.of[kind]]);
  return ways.flatMap((way) => {
    const crossing = obstacles.flatMap((obstacle): LotFinding[] => {
      const found = nearest(obstacle.shape, way.shape);
      if (found.distanceM > halfWidthM(way) + halfWidthM(obstacle) + roundingM) return [];
      return [
        rowOf(rule, obstacle, way, {
          result: rule.breach,
          why: crossingWords(obstacle, way),
          measured_m: 0,
          required_m: 0,
          nearest: [found.from, found.to],
        }),
      ];
    });
    if (crossing.length > 0 || obstacles.length === 0) return crossing;
    return [
      rowOf(rule, way, null, {
        result: 'pass',
        why: 'Nothing that is drawn stands in its way.',
      }),
    ];
  });
}

function crossingWords(obstacle: LocalFeature, way: LocalFeature): string {
  const name = nameOf(way);
  switch (obstacle.kind) {
    case 'fence': {
      const gapM = obstacle.feature.properties.gap_m;
      if (gapM === undefined) {
        return `It crosses ${name}, and the plan does not say what gap is left below it.`;
      }
      return gapM === 0
        ? `It crosses ${name} and is closed to the ground, so that it holds water like a wall.`
        : `It crosses ${name} with a gap below it: is that enough for all that runs there, leaves and all?`;
    }
    case 'regrade':
      return `It fills or cuts ${name}: what ran there has to find a way that is as low and as wide. Compare before and after.`;
    case 'soakaway':
      return `It is dug into ${name}.`;
    default:
      return `It stands across ${name} and holds back or turns what runs there. Compare before and after.`;
  }
}

function soakawayRows({ plan }: LotSite, rule: LotRuleOf<'soakaway-distance'>): LotFinding[] {
  return plan.of.soakaway.flatMap((soakaway, at): LotFinding[] => {
    // Of two soakaways one row tells of both.
    const others = {
      building: plan.of.building,
      'lot-line': plan.of.lot.filter(({ shape }) =>
        contains(shape.rings, centroid(soakaway.shape.rings)),
      ),
      soakaway: plan.of.soakaway.slice(at + 1),
    }[rule.to];
    const edge = outlineOf(soakaway.shape);
    const measured = others.map((other): readonly [LocalFeature, Separation] => [
      other,
      rule.to === 'lot-line'
        ? insideSeparation(edge, outlineOf(other.shape))
        : separation(edge, outlineOf(other.shape)),
    ]);
    if (measured.length === 0) return [];
    const [other, { distanceM, from, to }] = measured.reduce((a, b) =>
      b[1].distanceM < a[1].distanceM ? b : a,
    );
    const kept = distanceM >= rule.at_least_m - roundingM;
    return [
      rowOf(rule, soakaway, other, {
        result: kept ? 'pass' : rule.breach,
        why: kept
          ? 'As far off as asked for, or farther.'
          : `Nearer than asked for (${rule.published}).`,
        required_m: rule.at_least_m,
        measured_m: distanceM,
        nearest: [from, to],
      }),
    ];
  });
}

function gatheredRows(site: LotSite, rule: LotRuleOf<'gathered-flow'>): LotFinding[] {
  const { plan, outlets } = site;
  const swales = plan.of.swale.map((feature): Gathering => {
    const { points } = feature.shape;
    return {
      feature,
      start: points[0],
      at: points[points.length - 1],
      water: waterOf(null, null, feature.feature.properties.width_m ?? null, plan),
    };
  });
  const lets = outlets.map((outlet): Gathering => {
    const { feature, at, roofM2, pumpM3PerH, widthM } = outlet;
    return {
      feature,
      start: feature.shape.type === 'line' ? feature.shape.points[0] : firstOf(feature, at),
      at,
      water: waterOf(roofM2, pumpM3PerH, widthM, plan),
    };
  });
  const all = [...lets, ...swales];
  const rows = all.flatMap((each) => gatheredRow(plan, rule, each));
  if (rows.length > 0 || all.length === 0) return rows;
  return [
    rowOf(rule, null, null, {
      result: 'pass',
      why: 'Nothing that is drawn leads gathered water over a lot line or lets it out close to one.',
    }),
  ];
}

function firstOf(feature: Outlet['feature'], at: XY): XY {
  return feature.shape.type === 'point' ? feature.shape.at : at;
}

interface Gathering {
  readonly feature: LocalFeature;
  readonly start: XY;
  readonly at: XY;
  readonly water: GatheredWater;
}

function waterOf(
  roofM2: number | null,
  pumpM3PerH: number | null,
  widthM: number | null,
  { plan }: LocalPlan,
): GatheredWater {
  if (pumpM3PerH !== null) {
    return { volume_m3: null, l_per_s: pumpM3PerH / hourS / litreM3, width_m: widthM };
  }
  if (roofM2 === null) return { volume_m3: null, l_per_s: null, width_m: widthM };
  return {
    volume_m3: (roofM2 * eventDepthMm(plan.lotfall)) / 1000,
    l_per_s: (roofM2 * toldForMmPerH) / 1000 / hourS / litreM3,
    width_m: widthM,
  };
}

function gatheredRow(
  plan: LocalPlan,
  rule: LotRuleOf<'gathered-flow'>,
  { feature, start, at, water }: Gathering,
): LotFinding[] {
  const from = lotAt(plan, start);
  if (from === undefined) return [];
  const outline = outlineOf(from.shape);
  const on = boundaryPoint(outline, ...at);
  const awayM = distanceM(at, on);
  const isOver = !contains(from.shape.rings, at);
  if (!isOver && awayM >= rule.within_m - roundingM) return [];
  const into = [...plan.of.watercourse, ...plan.of.easement].find(
    ({ id, shape }) =>
      id !== feature.id && nearest({ type: 'point', at }, shape).distanceM <= intoWayM,
  );
  const onto = isOver ? lotAt(plan, at) : undefined;
  const whose = onto === undefined ? 'land on no lot that is drawn' : nameOf(onto);
  const much =
    water.l_per_s === null
      ? ' How much hangs on the heights of the ground.'
      : ' It comes as from a hose, not as a film over the whole line.';
  return [
    rowOf(rule, feature, onto ?? from, {
      result: into === undefined ? rule.breach : 'pass',
      why:
        into !== undefined
          ? `It ends in ${nameOf(into)}.`
          : isOver
            ? `It leads gathered water over the line of ${nameOf(from)} onto ${whose}.${much}`
            : `It lets gathered water out close to the line of ${nameOf(from)}.${much}`,
      measured_m: isOver ? 0 : awayM,
      required_m: rule.within_m,
      gathered: water,
      nearest: [at, on],
      ...(onto === undefined && isOver ? { otherName: whose } : {}),
    }),
  ];
}

/** A caution with its source in one line. */
export function cautionLine({ text, source }: { text: string; source: Source }): string {
  return `${text} (${sourceLine(source)})`;
}

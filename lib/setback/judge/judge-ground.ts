import type { XY } from '../../frame/frame';
import type { BasinSite } from './basin-site';
import { depthBelow } from './depth-below';
import { boundaryDistance, isInside, roundingM, type Outline } from '../measure/outline';
import type { Below, RuleOf } from '../rules/rule';
import type { SetbackResult } from './setback-result';
import type { StandingWater } from './setback-input';
import { isSlow } from './soil-rate';
import { nearestSteep } from '../measure/steep-ground';
import { featureName } from '../../plan/feature-name';

const levelsHandedIn = 'hand in levels of the ground at the basin, or an elevation';

export function judgeSlope(site: BasinSite, rule: RuleOf<'slope'>): SetbackResult {
  const { plane } = site;
  const slope = plane?.slopeRatio;
  const flat = slope !== undefined && slope < rule.atLeast;
  const limit = flat || rule.atMost === Infinity ? 'least' : 'most';
  const rest = {
    about: 'the ground at the basin',
    requiredSlope: limit === 'least' ? rule.atLeast : rule.atMost,
    measuredSlope: slope,
    limit,
  } as const;
  if (slope === undefined) {
    const why = 'There is no elevation here to tell the slope from.';
    return site.row(rule, null, { ...rest, result: 'check', why, settle: levelsHandedIn });
  }
  if (flat) {
    const why = `The ground is flatter than the rule asks for (${rule.published}).`;
    return site.row(rule, null, { ...rest, result: 'fail', why });
  }
  const steep = slope > rule.atMost;
  return site.row(rule, null, {
    ...rest,
    result: steep ? 'fail' : 'pass',
    why: steep
      ? `The ground is steeper than the rule allows (${rule.published}).`
      : rule.atMost === Infinity
        ? 'The ground falls enough.'
        : 'The ground is flat enough.',
  });
}

export function judgeSteepGround(site: BasinSite, rule: RuleOf<'steep-ground'>): SetbackResult {
  const { elevation } = site.input;
  const about = 'steep ground';
  const found =
    elevation === undefined
      ? null
      : nearestSteep(elevation, site.edgeOutline(rule.edge), rule.steeperThan);
  if (found === null) {
    return site.row(rule, null, {
      about,
      result: 'check',
      why: 'There is no elevation here to find steep ground with.',
      settle: 'hand in an elevation of the ground as far as the distance asked for',
      requiredM: rule.m,
      requiredSlope: rule.steeperThan,
    });
  }
  const berm = rule.edge === 'berm' ? (site.basin.bermWidthM ?? 0) : 0;
  const measuredM = Math.max(0, found.distanceM - berm);
  const isNear = measuredM < rule.m - roundingM;
  if (!isNear && found.unknownM - berm < rule.m - roundingM) {
    return site.row(rule, null, {
      about,
      result: 'check',
      why: 'No ground that steep is known so near, but the elevation data end or have holes within the distance asked for.',
      settle: 'hand in an elevation of the ground as far as the distance asked for',
      requiredM: rule.m,
      requiredSlope: rule.steeperThan,
    });
  }
  if (found.distanceM === Infinity) {
    const why = 'No ground within the elevation data is that steep.';
    return site.row(rule, null, { about, result: 'pass', why, requiredSlope: rule.steeperThan });
  }
  return site.row(rule, null, {
    about,
    result: isNear ? 'fail' : 'pass',
    why: isNear
      ? `Steep ground is nearer than asked for (${rule.published}).`
      : 'Steep ground is far enough away.',
    requiredM: rule.m,
    measuredM,
    requiredSlope: rule.steeperThan,
    nearest: [found.from, found.to],
  });
}

const belowNames = {
  'water-table': 'the water table',
  rock: 'rock',
  'limiting-layer': 'a tight layer',
} as const satisfies Record<Below, string>;

/** How far water, rock or a tight layer lies below the bottom of the dig, or below the surface. */
export function judgeBelow(
  site: BasinSite,
  rule: RuleOf<'separation-below'>,
  to: Below,
): SetbackResult {
  const about = belowNames[to];
  const { depthM, test, lookedDownToM } = depthBelow(site.input, to);
  const startM = rule.measuredFrom === 'surface' ? 0 : site.basin.bottomDepthM;
  const requiredM = rule.atLeastM;
  // However deep the basin is dug, what lies nearer the surface than asked for lies nearer its bottom.
  const isTooHigh = depthM !== undefined && depthM < requiredM - roundingM;
  const measuredM =
    depthM === undefined || (startM === undefined && !isTooHigh)
      ? undefined
      : Math.max(0, depthM - (startM ?? 0));
  if (measuredM !== undefined) {
    const near = measuredM < requiredM - roundingM;
    return site.row(rule, test ?? null, {
      about: test === undefined ? about : `${about} in ${featureName(test.feature)}`,
      result: near ? 'fail' : 'pass',
      why: near
        ? `It lies nearer ${rule.measuredFrom === 'surface' ? 'the surface' : 'the bottom'} than asked for (${rule.published}).`
        : 'It lies deep enough, where it was looked for.',
      requiredM,
      measuredM,
    });
  }
  const holeM = startM === undefined ? Infinity : startM + requiredM;
  return site.row(rule, null, {
    about,
    result: 'check',
    requiredM,
    settle:
      depthM !== undefined
        ? 'say how deep the basin is dug'
        : `dig a hole as deep as the basin and the distance asked for together, in the wet season, and report what it meets of ${about}`,
    why:
      depthM !== undefined
        ? 'How deep the basin is to be dug is not known.'
        : lookedDownToM >= holeM
          ? `A hole among the soil tests reaches deep enough, and nothing of ${about} is noted in it: if it was dry in the wet season, or met none, this is kept.`
          : `How deep ${about} lies is not known: dig a look hole in the wet season, as deep as the basin and the distance asked for together, and note as a soil test what it meets.`,
  });
}

export function judgeWetSpot(site: BasinSite, rule: RuleOf<'wet-spot'>): SetbackResult {
  const { standing } = site.input;
  const about = 'water that stands there already';
  const slow = isSlow(site.input, rule.slowerThanMmPerH);
  const deepest = standing === undefined ? undefined : deepestIn(standing, site.outline);
  const rest = {
    about,
    requiredDepthM: rule.deeperThanM,
    measuredDepthM: deepest?.depthM,
    limit: 'most',
    ...(deepest === undefined || deepest.depthM === 0
      ? {}
      : { nearest: [deepest.at, deepest.at] as const }),
  } as const;
  if (deepest === undefined && slow === false) {
    const why = 'Whether water stands there is not known, but the soil takes it fast enough.';
    return site.row(rule, null, { ...rest, result: 'pass', why });
  }
  if (deepest === undefined) {
    return site.row(rule, null, {
      ...rest,
      result: 'check',
      why: 'Where water stands is not known: read an elevation, and look at the place a day after heavy rain.',
      settle: 'report whether water stands at the place a day after heavy rain',
    });
  }
  if (deepest.depthM <= rule.deeperThanM) {
    const why = 'No water worth naming stands there in this storm.';
    return site.row(rule, null, { ...rest, result: 'pass', why });
  }
  if (slow === undefined) {
    return site.row(rule, null, {
      ...rest,
      result: 'check',
      why: 'Water stands there in this storm, and how fast the soil takes it is not known well enough: test the soil at that place.',
      settle: 'hand in a soil test at the place',
    });
  }
  return site.row(rule, null, {
    ...rest,
    result: slow ? 'fail' : 'pass',
    why: slow
      ? `Water stands there already (${rule.published}).`
      : 'Water stands there in this storm, but the soil takes it fast enough.',
  });
}

/** The deepest standing water inside a rim; `undefined` when none of the rim's ground lies on the cells. */
function deepestIn(
  { grid, depthM }: StandingWater,
  rim: Outline,
): { depthM: number; at: XY } | undefined {
  const { cellM, westM, northM, width, height } = grid;
  const column0 = Math.max(0, Math.floor((rim.west - westM) / cellM));
  const column1 = Math.min(width - 1, Math.floor((rim.east - westM) / cellM));
  const row0 = Math.max(0, Math.floor((northM - rim.north) / cellM));
  const row1 = Math.min(height - 1, Math.floor((northM - rim.south) / cellM));
  let best: { depthM: number; at: XY } | undefined;
  for (let row = row0; row <= row1; row++) {
    const y = northM - (row + 0.5) * cellM;
    for (let column = column0; column <= column1; column++) {
      const x = westM + (column + 0.5) * cellM;
      const depth = depthM[row * width + column];
      if (Number.isNaN(depth) || (best !== undefined && depth <= best.depthM)) continue;
      // A basin smaller than a cell still has the cell that it lies in.
      if (isInside(rim, x, y) || boundaryDistance(rim, x, y) <= cellM / 2) {
        best = { depthM: depth, at: [x, y] };
      }
    }
  }
  return best;
}

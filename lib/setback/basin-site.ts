import type { XY } from '../frame/frame';
import type { PolygonShape } from '../frame/shapes';
import type { LocalFeature } from '../plan/local-plan';
import { halfWidthM, nameOf, type Side } from './concerned';
import { heightAt, planeOver, type FittedPlane } from './ground-at';
import { outlineOf, separation, type Outline, type Separation } from './measure';
import type { Rule } from './rule';
import type { CheckedBasin, SetbackInput, SetbackResult, Verdict } from './setback-result';

/**
 * Ground counts as higher or lower only beyond this rise, or this share of the distance: about the error of public
 * lidar elevation (RMSE 0.10 m for quality levels 1 and 2), and a fall that water still follows (1 %, common practice).
 */
const levelM = 0.1;
const levelRatio = 0.01;

/** Ground this far round the rim counts for the slope at the basin, metres (and a cell and a half). Common practice, no source. */
const slopeAroundM = 1;

/** Which way a place lies that is higher than another by `riseM` (negative for lower), `distanceM` away. */
export function sideByRise(riseM: number, distanceM: number): Side {
  if (Number.isNaN(riseM)) return 'unknown';
  const level = Math.max(levelM, levelRatio * distanceM);
  return riseM > level ? 'uphill' : riseM < -level ? 'downhill' : 'level';
}

/** One basin with what is worked out about it once. */
export class BasinSite {
  readonly outline: Outline;
  private readonly separations = new Map<LocalFeature, Separation>();
  private fitted: FittedPlane | null | undefined;

  constructor(
    readonly input: SetbackInput,
    readonly basin: CheckedBasin,
  ) {
    const shape: PolygonShape = { type: 'polygon', rings: [basin.rim] };
    this.outline = outlineOf(shape);
  }

  /** The distance to a feature's true shape: to the side of a line that has a width. */
  to(feature: LocalFeature): Separation {
    let found = this.separations.get(feature);
    if (found === undefined) {
      found = widened(separation(this.outline, outlineOf(feature.shape)), halfWidthM(feature));
      this.separations.set(feature, found);
    }
    return found;
  }

  /** The plane of the ground under and round the basin; `null` when the elevation does not say. */
  get plane(): FittedPlane | null {
    if (this.fitted === undefined) {
      const { elevation } = this.input;
      this.fitted =
        elevation === undefined
          ? null
          : planeOver(elevation, this.outline, Math.max(slopeAroundM, 1.5 * elevation.cellM));
    }
    return this.fitted;
  }

  /** Which way the basin lies from a feature. */
  sideOf(feature: LocalFeature): Side {
    const { elevation } = this.input;
    const { plane } = this;
    if (elevation === undefined || plane === null) return 'unknown';
    const { distanceM, to } = this.to(feature);
    return sideByRise(plane.middleM - heightAt(elevation, to[0], to[1]), distanceM);
  }

  row(rule: Rule, feature: LocalFeature | null, rest: RowRest): SetbackResult {
    return {
      rule: rule.id,
      letter: rule.letter,
      title: rule.title,
      basin: this.basin.id,
      feature: feature?.id ?? null,
      feature_name: rest.about ?? (feature === null ? 'the whole lot' : nameOf(feature)),
      required_m: rest.requiredM ?? null,
      measured_m: rest.measuredM ?? null,
      margin_m:
        rest.requiredM === undefined || rest.measuredM === undefined
          ? null
          : rest.measuredM - rest.requiredM,
      penetration_m: rest.penetrationM ?? 0,
      required_slope: rest.requiredSlope ?? null,
      measured_slope: rest.measuredSlope ?? null,
      result: rest.result,
      why: rest.why,
      published: rule.published,
      binding: rule.binding,
      nearest: rest.nearest ?? null,
      source: rule.source,
    };
  }
}

/** What differs from row to row. */
export interface RowRest {
  readonly result: Verdict;
  readonly why: string;
  readonly about?: string;
  readonly requiredM?: number | undefined;
  readonly measuredM?: number | undefined;
  readonly penetrationM?: number;
  readonly requiredSlope?: number;
  readonly measuredSlope?: number | undefined;
  readonly nearest?: readonly [XY, XY];
}

function widened(found: Separation, halfM: number): Separation {
  if (halfM === 0) return found;
  const { distanceM, from, to } = found;
  if (distanceM <= halfM) {
    return { distanceM: 0, penetrationM: found.penetrationM + halfM - distanceM, from, to: from };
  }
  const t = halfM / distanceM;
  return {
    distanceM: distanceM - halfM,
    penetrationM: 0,
    from,
    to: [to[0] + t * (from[0] - to[0]), to[1] + t * (from[1] - to[1])],
  };
}

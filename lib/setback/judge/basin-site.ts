import type { XY } from '../../frame/frame';
import type { PolygonShape } from '../../frame/shapes';
import { groundPlane } from '../../ground/ground-plane';
import type { GroundPlane } from '../../ground/plane-sums';
import type { LocalFeature } from '../../plan/local-plan';
import { accuracyM, halfWidthM, nameOf, type Side } from '../rules/concerned';
import { heightAt } from '../../ground/height-at';
import { insetOutline } from '../measure/inset-outline';
import {
  insideSeparation,
  outlineOf,
  separation,
  type Outline,
  type Separation,
} from '../measure/outline';
import type { BasinEdge, Rule } from '../rules/rule';
import type { SetbackResult } from './setback-result';
import type { SetbackInput } from './setback-input';
import type { Verdict } from '../../verdict';
import type { CheckedBasin } from '../rules/checked-basins';
import { whatWasMeasured } from './what-was-measured';

/**
 * Ground counts as higher or lower only beyond this rise, or this share of the distance: about the error of public
 * lidar elevation (RMSE 0.10 m for quality levels 1 and 2), and a fall that water still follows (1 %, common practice).
 */
const levelM = 0.1;
const levelRatio = 0.01;

/** Which way a place lies that is higher than another by `riseM` (negative for lower), `distanceM` away. */
export function sideByRise(riseM: number, distanceM: number): Side {
  if (Number.isNaN(riseM)) return 'unknown';
  const level = Math.max(levelM, levelRatio * distanceM);
  return riseM > level ? 'uphill' : riseM < -level ? 'downhill' : 'level';
}

/** One basin with what is worked out about it once. */
export class BasinSite {
  readonly outline: Outline;
  readonly #separations = new Map<LocalFeature, Separation>();
  readonly #fromBottom = new Map<LocalFeature, Separation>();
  #bottomEdge: Outline | undefined;
  #fitted: GroundPlane | null | undefined;

  constructor(
    readonly input: SetbackInput,
    readonly basin: CheckedBasin,
  ) {
    const shape: PolygonShape = { type: 'polygon', rings: [basin.rim] };
    this.outline = outlineOf(shape);
  }

  /**
   * The distance from an edge of the basin to a feature's true extent: to the side of a line that has a width, to a
   * tank's wall. The berm's foot lies evenly outside the rim, so that its distance is the rim's less its width.
   */
  to(feature: LocalFeature, edge: BasinEdge = 'rim'): Separation {
    if (edge === 'bottom') return this.#separated(feature, this.#bottom, this.#fromBottom);
    const found = this.#separated(feature, this.outline, this.#separations);
    if (edge === 'rim') return found;
    return turned(nearerBy(turned(found), this.basin.bermWidthM ?? 0));
  }

  /** How far an edge of the basin keeps inside a lot, negative where it leaves it. */
  inside(lot: LocalFeature<'lot'>, edge: BasinEdge): Separation {
    const found = insideSeparation(this.edgeOutline(edge), outlineOf(lot.shape));
    const bermM = edge === 'berm' ? (this.basin.bermWidthM ?? 0) : 0;
    const distanceM = found.distanceM - bermM;
    return { ...found, distanceM, penetrationM: Math.max(0, -distanceM) };
  }

  /** The outline of an edge, but for the berm's, which is the rim's and so much farther out. */
  edgeOutline(edge: BasinEdge): Outline {
    return edge === 'bottom' ? this.#bottom : this.outline;
  }

  /** The edge of the level floor; the rim where a bowl so narrow comes to a point. */
  get #bottom(): Outline {
    this.#bottomEdge ??= insetOutline(this.outline, this.basin.bottomInsetM ?? 0) ?? this.outline;
    return this.#bottomEdge;
  }

  #separated(
    feature: LocalFeature,
    from: Outline,
    known: Map<LocalFeature, Separation>,
  ): Separation {
    let found = known.get(feature);
    if (found === undefined) {
      found = nearerBy(separation(from, outlineOf(feature.shape)), halfWidthM(feature));
      known.set(feature, found);
    }
    return found;
  }

  /** The plane of the ground under and round the basin; `null` when the elevation does not say. */
  get plane(): GroundPlane | null {
    if (this.#fitted === undefined) {
      const { elevation } = this.input;
      this.#fitted = elevation === undefined ? null : groundPlane(elevation, this.basin.rim);
    }
    return this.#fitted;
  }

  /** Which way the basin lies from a feature. */
  sideOf(feature: LocalFeature): Side {
    const { elevation } = this.input;
    const { plane } = this;
    if (elevation === undefined || plane === null) return 'unknown';
    const { distanceM, to } = this.to(feature);
    return sideByRise(plane.middleM - heightAt(elevation, to), distanceM);
  }

  row(rule: Rule, feature: LocalFeature | null, rest: RowRest): SetbackResult {
    const { requiredM, measuredM } = rest;
    return {
      rule: rule.id,
      letter: rule.letter,
      title: rule.title,
      basin: this.basin.id,
      feature: feature?.id ?? null,
      feature_name: rest.about ?? (feature === null ? 'the whole lot' : nameOf(feature)),
      required_m: requiredM ?? null,
      measured_m: measuredM ?? null,
      margin_m: requiredM === undefined || measuredM === undefined ? null : measuredM - requiredM,
      accuracy_m: feature === null ? 0 : accuracyM(feature),
      penetration_m: rest.penetrationM ?? 0,
      required_slope: rest.requiredSlope ?? null,
      measured_slope: rest.measuredSlope ?? null,
      required_h: rest.requiredH ?? null,
      measured_h: rest.measuredH ?? null,
      required_depth_m: rest.requiredDepthM ?? null,
      measured_depth_m: rest.measuredDepthM ?? null,
      limit: rest.limit ?? 'least',
      result: rest.result,
      why: rest.why,
      ...whatWasMeasured(rule, this.basin, feature),
      before_issue: rest.result === 'check' ? (rest.settle ?? sentencePart(rest.why)) : null,
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
  /** What settles it where it cannot be judged; what `why` asks for when not given. */
  readonly settle?: string;
  readonly about?: string;
  readonly requiredM?: number | undefined;
  readonly measuredM?: number | undefined;
  readonly penetrationM?: number;
  readonly requiredSlope?: number;
  readonly measuredSlope?: number | undefined;
  readonly requiredH?: number;
  readonly measuredH?: number | undefined;
  readonly requiredDepthM?: number;
  readonly measuredDepthM?: number | undefined;
  readonly limit?: 'least' | 'most';
  readonly nearest?: readonly [XY, XY];
}

/** A sentence as part of another: without its stop. */
export function sentencePart(sentence: string): string {
  return `${sentence.charAt(0).toLowerCase()}${sentence.slice(1).replace(/\.$/, '')}`;
}

function turned({ from, to, ...rest }: Separation): Separation {
  return { ...rest, from: to, to: from };
}

/** The separation when the second of the two reaches evenly farther out. */
function nearerBy(found: Separation, byM: number): Separation {
  if (byM === 0) return found;
  const { distanceM, from, to } = found;
  if (distanceM <= byM) {
    return { distanceM: 0, penetrationM: found.penetrationM + byM - distanceM, from, to: from };
  }
  const t = byM / distanceM;
  return {
    distanceM: distanceM - byM,
    penetrationM: 0,
    from,
    to: [to[0] + t * (from[0] - to[0]), to[1] + t * (from[1] - to[1])],
  };
}

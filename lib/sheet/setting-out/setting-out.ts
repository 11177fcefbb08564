import type { Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { centroid, distanceM, type Ring } from '../../frame/shapes';
import { heightAt } from '../../ground/height-at';
import type { LocalPlan } from '../../plan/local-plan';
import { bestPair, fixedCorners, type CornerPair } from './fixed-corners';
import { roundParts, stakesAlong, type RoundPart } from './stakes';
import { crossingDeg, isGoodAngle, pointErrorM, toBaseLine } from './trilateration';

/** A stake with everything by which it is set and checked. Lengths in metres, level. */
export interface Stake {
  readonly number: number;
  readonly on: 'rim' | 'floor' | 'notch';
  readonly at: XY;
  readonly taped: {
    readonly fromAM: number;
    readonly fromBM: number;
    readonly crossingDeg: number;
    readonly isGood: boolean;
    /** How far the stake may be off for the tape error that was stated. */
    readonly errorM: number;
    /** From the base line A to B: along it from A, and out from it. */
    readonly alongM: number;
    readonly outM: number;
  } | null;
  /** To the stake before it on the same outline; the first one's to the last. */
  readonly toLastM: number;
  /** Below the string; `null` without elevation. */
  readonly down: {
    readonly groundNowM: number;
    readonly finishedM: number;
    /** Where layers are laid: the bottom of the dig. */
    readonly digToM: number | null;
  } | null;
}

/** Everything to set one garden out with two tapes and a level string. */
export interface SettingOut {
  readonly pair: CornerPair | null;
  /** From A to B. */
  readonly baseM: number | null;
  readonly stakes: readonly Stake[];
  readonly round: readonly RoundPart[];
  readonly tapeErrorM: number;
  /** The string over the rim, which is level. */
  readonly stringOverRimM: number | null;
  /** The rim stake at which the ground lies nearest to the rim's level: the rim's height is set there. */
  readonly benchmark: { readonly stake: number; readonly groundUnderRimM: number } | null;
}

export interface SettingOutQuestion {
  readonly plan: LocalPlan;
  readonly rim: Ring;
  readonly floor: readonly Ring[];
  readonly notch: XY | null;
  readonly tapeErrorM: number;
  /** Heights, where there is elevation: the ground as it is, and the levels of the basin over its datum. */
  readonly levels: {
    readonly ground: Grid;
    readonly rimM: number;
    readonly floorM: number;
    readonly sillM: number;
    readonly digDepthM: number;
  } | null;
}

/** The string is pulled so far over the highest ground at the stakes, rounded up to whole steps, metres. */
const clearM = 0.1;
const stringStepM = 0.05;

/** Stakes of rim, floor and notch, with their tapes, offsets, checks and heights. */
export function settingOut(question: SettingOutQuestion): SettingOut {
  const { plan, rim, floor, notch, tapeErrorM, levels } = question;
  const outlines: { on: Stake['on']; places: readonly XY[] }[] = [
    { on: 'rim', places: stakesAlong(rim) },
    ...floor.map((ring) => ({ on: 'floor' as const, places: stakesAlong(ring) })),
    ...(notch === null ? [] : [{ on: 'notch' as const, places: [notch] }]),
  ];
  const points = outlines.flatMap(({ places }) => places);
  const pair = bestPair(plan, fixedCorners(plan, centroid([rim])), points);
  const groundM = points.map((at) => (levels === null ? Number.NaN : heightAt(levels.ground, at)));
  const stringOverRimM = levels === null ? null : stringHeight(levels.rimM, groundM);
  let number = 0;
  const stakes = outlines.flatMap(({ on, places }) =>
    places.map((at, i): Stake => {
      const before = places[(i + places.length - 1) % places.length];
      const now = groundM[number];
      number++;
      return {
        number,
        on,
        at,
        taped: pair === null ? null : tapedFrom(pair, at, tapeErrorM),
        toLastM: distanceM(at, before),
        down:
          levels === null || stringOverRimM === null
            ? null
            : downFrom(levels.rimM + stringOverRimM, on, now, levels),
      };
    }),
  );
  return {
    pair,
    baseM: pair === null ? null : distanceM(pair.a.at, pair.b.at),
    stakes,
    round: roundParts(rim),
    tapeErrorM,
    stringOverRimM,
    benchmark: levels === null ? null : nearestToRim(stakes, levels.rimM, groundM),
  };
}

function tapedFrom({ a, b }: CornerPair, at: XY, tapeErrorM: number): Stake['taped'] {
  const angle = crossingDeg(at, a.at, b.at);
  return {
    fromAM: distanceM(a.at, at),
    fromBM: distanceM(b.at, at),
    crossingDeg: angle,
    isGood: isGoodAngle(angle),
    errorM: pointErrorM(at, a.at, b.at, tapeErrorM),
    ...toBaseLine(a.at, b.at, at),
  };
}

function stringHeight(rimM: number, groundM: readonly number[]): number {
  const highest = Math.max(rimM, ...groundM.filter((height) => !Number.isNaN(height)));
  return Math.ceil((highest - rimM + clearM) / stringStepM - 1e-9) * stringStepM;
}

function downFrom(
  stringM: number,
  on: Stake['on'],
  groundM: number,
  { rimM, floorM, sillM, digDepthM }: NonNullable<SettingOutQuestion['levels']>,
): Stake['down'] {
  const finishedM = { rim: rimM, floor: floorM, notch: sillM }[on];
  return {
    groundNowM: stringM - groundM,
    finishedM: stringM - finishedM,
    digToM: on === 'notch' ? null : stringM - finishedM + digDepthM,
  };
}

function nearestToRim(
  stakes: readonly Stake[],
  rimM: number,
  groundM: readonly number[],
): SettingOut['benchmark'] {
  const onRim = stakes.filter(
    ({ on, number }) => on === 'rim' && !Number.isNaN(groundM[number - 1]),
  );
  if (onRim.length === 0) return null;
  const best = onRim.reduce((a, b) =>
    Math.abs(groundM[b.number - 1] - rimM) < Math.abs(groundM[a.number - 1] - rimM) ? b : a,
  );
  return { stake: best.number, groundUnderRimM: rimM - groundM[best.number - 1] };
}

import { classDepthM } from '../../basin/form/size-factors';
import { drainDownH, type Simulated } from './simulated-size';
import { scoreOf, scoreParts, type ScoreWeights } from './score';
import type { Sized } from './sized-place';
import type { SitingInput } from './siting-input';
import type { CandidateSite } from './siting-result';
import { hourS } from '../../units/units';

/** What of the storm a sized place captures, as the answer names it. */
type Capture = Pick<
  CandidateSite,
  'inflow_m3' | 'captured_m3' | 'captured_fraction' | 'drain_down_h' | 'simulated' | 'unknown'
>;

/**
 * A sized place as the answer names it, not yet ranked.
 *
 * @param reachableM3 - the most that any place holds: what the part `caught` is measured by.
 */
export function candidateSite(
  sized: Sized,
  { input, reachableM3, weights, simulated, gain }: About,
): CandidateSite {
  const { scored, outline } = sized;
  const parts = scoreParts(scored, reachableM3);
  return {
    rank: 0,
    lot: sized.lot,
    at: sized.at,
    rim: sized.rim,
    form: outline.form,
    aspect: outline.aspect,
    turn_rad: outline.turnRad,
    area_m2: sized.areaM2,
    wanted_m2: sized.wantedM2,
    ponding_depth_m: classDepthM[sized.depth],
    depth_class: sized.depth,
    slope: scored.slopeRatio,
    catches_m2: sized.catchesM2,
    by_itself_m2: sized.byItselfM2,
    led: sized.led,
    bowl_m3: scored.bowlM3,
    cut_m3: scored.cutM3,
    ...capture(sized, input, simulated),
    gain,
    score: scoreOf(parts, weights),
    parts,
    setbacks: sized.setbacks,
  };
}

interface About {
  readonly input: SitingInput;
  readonly reachableM3: number;
  readonly weights: ScoreWeights;
  readonly simulated: Simulated | null;
  readonly gain: number;
}

/** By simulation where there is one; else what the bowl holds, and the time for its depth to soak in at a known rate. */
function capture(
  { scored, inflowM3, depth }: Sized,
  { infiltrationMPerS, simulate }: SitingInput,
  simulated: Simulated | null,
): Capture {
  if (simulated !== null) {
    const { filled, wantedShare, areaForShareM2 } = simulated;
    const standsH = drainDownH(filled);
    return {
      inflow_m3: filled.inflowM3,
      captured_m3: filled.inflowM3 - filled.overflowM3,
      captured_fraction: filled.capturedFraction,
      drain_down_h: standsH,
      simulated: {
        inflow_m3: filled.inflowM3,
        overflow_m3: filled.overflowM3,
        wanted_share: wantedShare,
        area_for_share_m2: areaForShareM2,
        after_rain_h: filled.afterRainH,
        from_full_h: filled.fromFullH,
      },
      unknown: standsH === null ? 'It does not drain in the time looked at.' : null,
    };
  }
  const isKnown = infiltrationMPerS !== undefined && infiltrationMPerS > 0;
  return {
    inflow_m3: inflowM3,
    captured_m3: scored.capturedM3,
    captured_fraction: inflowM3 > 0 ? scored.capturedM3 / inflowM3 : 0,
    drain_down_h: isKnown ? classDepthM[depth] / infiltrationMPerS / hourS : null,
    simulated: null,
    unknown:
      typeof simulate === 'object'
        ? simulate.unknown
        : 'Filling and draining has not been worked out.',
  };
}

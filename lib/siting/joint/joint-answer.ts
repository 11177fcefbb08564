import type { FilledOutline } from '../../basin/filling/outline-filler';
import { candidateSite } from '../sizing/candidate-site';
import type { Joint } from './choose-jointly';
import type { ScoreWeights } from '../sizing/score';
import type { SearchedLot } from '../sizing/searched-lot';
import type { Sized } from '../sizing/sized-place';
import type { Portion } from './shared-water';
import { sitingDefaults, type SiteSimulator } from '../sizing/siting-input';
import type { JointBasin, JointSites } from '../sizing/siting-result';
import { siteToFill } from '../sizing/simulated-size';

/**
 * Basins that share the water, as the answer names them: what each gets and holds, by simulation where there is one.
 *
 * @param singleM3 - what the best single place captures.
 */
export function jointAnswer(
  searched: SearchedLot,
  joint: Joint,
  weights: ScoreWeights,
  reachableM3: number,
  singleM3: number,
): JointSites {
  const { input } = searched;
  const own = joint.basins.map((basin, i) => withPortion(basin, joint.portions[i]));
  const flows =
    typeof input.simulate === 'function'
      ? simulated(searched, joint, own, input.simulate)
      : joint.portions.map(byBowl);
  const catchesM2 = sum(joint.portions.map((portion) => portion.catchesM2));
  const inflowM3 = sum(flows.map((flow) => flow.inflowM3));
  const capturedM3 = sum(flows.map((flow) => flow.capturedM3));
  return {
    basins: own.map((basin, i): JointBasin => {
      const portion = joint.portions[i];
      return {
        ...candidateSite(basin, {
          input,
          reachableM3,
          weights,
          simulated: simulatedOf(flows[i].filled, searched),
          gain: 0,
        }),
        rank: i + 1,
        inflow_m3: flows[i].inflowM3,
        captured_m3: flows[i].capturedM3,
        share: catchesM2 > 0 ? portion.catchesM2 / catchesM2 : 0,
        from_overflow_m3: flows[i].fromOverflowM3,
        overflow_m3: flows[i].overflowM3,
        overflows_to: flows[i].overflowM3 > 0 ? flows[i].overflowsTo : null,
      };
    }),
    area_m2: sum(own.map(({ areaM2 }) => areaM2)),
    catches_m2: catchesM2,
    inflow_m3: inflowM3,
    captured_m3: capturedM3,
    captured_fraction: inflowM3 > 0 ? capturedM3 / inflowM3 : 0,
    single_captured_m3: singleM3,
    score: joint.score,
  };
}

/** What goes through one basin; `inflowM3` is its own water, without what other basins send on. */
interface Through {
  readonly inflowM3: number;
  readonly fromOverflowM3: number;
  readonly capturedM3: number;
  readonly overflowM3: number;
  readonly overflowsTo: number | null;
  readonly filled: FilledOutline | null;
}

function byBowl(portion: Portion): Through {
  const { inflowM3, fromOverflowM3, capturedM3, overflowM3 } = portion;
  return {
    inflowM3,
    fromOverflowM3,
    capturedM3,
    overflowM3,
    overflowsTo: portion.overflowsTo === -1 ? null : portion.overflowsTo + 1,
    filled: null,
  };
}

/** Each basin in the order of flow; what one sends on comes to the next with the run-off of the ground. */
function simulated(
  searched: SearchedLot,
  { portions, order, onward }: Joint,
  basins: readonly Sized[],
  simulate: SiteSimulator,
): Through[] {
  const sentM3 = basins.map(() => 0);
  const found: Through[] = [];
  order.forEach((i, turn) => {
    const site = siteToFill(searched, basins[i]);
    const { runOffDepthM } = searched.input;
    const moreM2 = runOffDepthM > 0 ? sentM3[i] / runOffDepthM : 0;
    const filled = simulate({ ...site, groundM2: site.groundM2 + moreM2 });
    for (const next of order.slice(turn + 1)) sentM3[next] += onward[i][next] * filled.overflowM3;
    found[i] = {
      ...byBowl(portions[i]),
      inflowM3: filled.inflowM3 - sentM3[i],
      fromOverflowM3: sentM3[i],
      capturedM3: filled.inflowM3 - filled.overflowM3,
      overflowM3: filled.overflowM3,
      overflowsTo: nextOf(onward[i], order.slice(turn + 1)),
      filled,
    };
  });
  return found;
}

function nextOf(shares: readonly number[], below: readonly number[]): number | null {
  let most = -1;
  for (const i of below) if (shares[i] > 0 && (most === -1 || shares[i] > shares[most])) most = i;
  return most === -1 ? null : most + 1;
}

function simulatedOf(filled: FilledOutline | null, { input }: SearchedLot) {
  if (filled === null) return null;
  return {
    filled,
    wantedShare: input.wantedShare ?? sitingDefaults.wantedShare,
    areaForShareM2: null,
  };
}

/** A basin with the part of the water that is its own. */
function withPortion(basin: Sized, portion: Portion): Sized {
  return {
    ...basin,
    led: portion.led,
    byItselfM2: portion.catch.areaM2,
    roofsByItselfM2: portion.roofM2 - sum(portion.led.map((roof) => roof.area_m2)),
    catchesM2: portion.catchesM2,
    inflowM3: portion.inflowM3,
    wantedM2: portion.wantedM2,
    scored: { ...basin.scored, capturedM3: portion.capturedM3 },
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

import type { Pace } from './pace';
import { isMore, largestFirst } from '../rounding';
import type { Glimpse, Scan } from './scan';
import type { SearchedLot } from '../sizing/searched-lot';

/** No more places than this are looked at in the first pass; a larger lot is looked at on a wider mesh, then refined. */
const placesAtMost = 2500;
/** Places handed on: the exact check may refuse some that the map allows. */
export const seedsAtMost = 160;
/** Of those so many are moved to the best cell near by first. */
const refinedAtMost = 64;
const refineSteps = 6;
/** Places are kept apart by these shares of their radii: well apart first, then filling in between. */
const spreads = [0.75, 0.3];

/**
 * Places worth sizing, by estimates alone: every allowed cell (on large lots, every few) is looked at with every
 * outline, and the best are kept apart from one another and moved to the best cell near by.
 *
 * @param partial - takes places that are too small for all that arrives.
 */
export async function findSeeds(
  searched: SearchedLot,
  scan: Scan,
  pace: Pace,
  partial: boolean,
): Promise<Glimpse[]> {
  const glimpses = await look(searched, scan, pace, partial);
  const mostM3 = Math.max(0, ...glimpses.map((glimpse) => glimpse.scored.capturedM3));
  const seeds = spread(searched, scan, glimpses, mostM3);
  return refine(searched, scan, pace, seeds, mostM3);
}

async function look(
  searched: SearchedLot,
  scan: Scan,
  pace: Pace,
  partial: boolean,
): Promise<Glimpse[]> {
  const { columns, rows } = searched.forbidden.mesh;
  let allowed = 0;
  for (let i = 0; i < columns * rows; i++) if (searched.isAllowed(i)) allowed++;
  const stride = Math.max(1, Math.ceil(Math.sqrt(allowed / placesAtMost)));
  const found: Glimpse[] = [];
  // The captured share is measured against the best place, which the first pass does not know yet.
  for (let row = Math.floor(stride / 2); row < rows; row += stride) {
    for (let column = Math.floor(stride / 2); column < columns; column += stride) {
      const glimpse = scan.glimpse(row * columns + column, scan.possibleM3, partial);
      if (glimpse !== null) found.push(glimpse);
    }
    await pace.at(0.05 + 0.25 * (row / rows), 'Looking at every place');
  }
  // Where the mesh hit nothing, a small lot may still have room between its points.
  if (found.length === 0 && stride > 1) {
    for (let i = 0; i < columns * rows; i++) {
      const glimpse = scan.glimpse(i, scan.possibleM3, partial);
      if (glimpse !== null) found.push(glimpse);
      if (i % columns === 0) await pace.at(0.3, 'Looking between');
    }
  }
  return found;
}

/** The best places, kept apart so that they are not all one place; of several lots each in turn. */
function spread(
  searched: SearchedLot,
  scan: Scan,
  glimpses: readonly Glimpse[],
  mostM3: number,
): Glimpse[] {
  const order = glimpses
    .map((glimpse) => ({ glimpse, score: scan.score(glimpse, mostM3) }))
    .sort((a, b) => largestFirst(a.score, b.score) || a.glimpse.cell - b.glimpse.cell);
  const byLot = new Map<string | null, Glimpse[]>();
  for (const { glimpse } of order) {
    const lot = searched.lotAt(glimpse.at);
    const ofLot = byLot.get(lot);
    if (ofLot === undefined) byLot.set(lot, [glimpse]);
    else ofLot.push(glimpse);
  }
  const inTurn = interleaved([...byLot.values()]);
  const kept: Glimpse[] = [];
  for (const share of spreads) {
    for (const glimpse of inTurn) {
      if (kept.length >= seedsAtMost) break;
      const near = kept.some((other) =>
        isMore(
          share * (radiusOf(glimpse) + radiusOf(other)),
          Math.hypot(other.at[0] - glimpse.at[0], other.at[1] - glimpse.at[1]),
        ),
      );
      if (!near) kept.push(glimpse);
    }
  }
  return kept;
}

/** Moves each place to the best cell near by, as far as the estimates can tell. */
async function refine(
  searched: SearchedLot,
  scan: Scan,
  pace: Pace,
  seeds: readonly Glimpse[],
  mostM3: number,
): Promise<Glimpse[]> {
  const { columns } = searched.forbidden.mesh;
  const refined: Glimpse[] = [];
  for (const [i, seed] of seeds.entries()) {
    if (i >= refinedAtMost) {
      refined.push(seed);
      continue;
    }
    let best = seed;
    let bestScore = scan.score(seed, mostM3);
    for (let step = 0; step < refineSteps; step++) {
      const from = best.cell;
      for (const move of [1, -1, columns, -columns]) {
        const glimpse = scan.glimpse(from + move, mostM3);
        if (glimpse === null) continue;
        const score = scan.score(glimpse, mostM3);
        if (isMore(score, bestScore)) {
          best = glimpse;
          bestScore = score;
        }
      }
      if (best.cell === from) break;
    }
    refined.push(best);
    await pace.at(0.3 + 0.05 * (i / seeds.length), 'Looking closer');
  }
  return [...new Map(refined.map((each) => [each.cell, each])).values()];
}

/** One of each list in turn. */
function interleaved<T>(lists: readonly (readonly T[])[]): T[] {
  const longest = Math.max(0, ...lists.map((list) => list.length));
  return Array.from({ length: longest }, (_, i) =>
    lists.flatMap((list) => (i < list.length ? [list[i]] : [])),
  ).flat();
}

function radiusOf({ areaM2 }: Glimpse): number {
  return Math.sqrt(areaM2 / Math.PI);
}

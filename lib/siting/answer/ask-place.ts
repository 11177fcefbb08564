import { bearingVector } from '../../frame/bearing-vector';
import type { Frame, XY } from '../../frame/frame';
import { candidateSite } from '../sizing/candidate-site';
import { meshCentre } from '../refused/mesh';
import { scoreOf, scoreParts, type ScoreWeights } from '../sizing/score';
import type { Scan } from '../search/scan';
import type { SearchedLot } from '../sizing/searched-lot';
import type { Sized } from '../sizing/sized-place';
import type { OutlineForm } from '../sizing/basin-outline';
import type { CandidateSite } from '../sizing/siting-result';
import { whyNotHere, type Forbidding } from './why-not-here';

/** The nearest place to one asked about where a basin may lie. */
export interface NearestPlace {
  readonly at: XY;
  readonly rim: readonly XY[];
  readonly form: OutlineForm;
  readonly area_m2: number;
  readonly distance_m: number;
  /** Degrees clockwise from true north. */
  readonly bearing_deg: number;
}

/** What the rules say to a basin with its middle at a place. */
export interface PlaceAnswer {
  readonly at: XY;
  /** Id of the own lot that it lies on; `null` off them. */
  readonly lot: string | null;
  /** Rules that a rim at this point breaks; where it breaks none, those that the smallest round basin about it breaks. */
  readonly forbidding: readonly Forbidding[];
  /** The best basin with its middle here, `null` where none complies. */
  readonly here: CandidateSite | null;
  /** Where there is none: the nearest place that has one, to a cell of the mesh; `null` when there is none at all. */
  readonly nearest: NearestPlace | null;
}

/** Outlines tried at a place asked about. */
const outlinesTried = 6;

/**
 * Why here, or why not: the best basin with its middle at a place, or the rules that forbid one and the nearest place
 * that would do.
 *
 * @param reachableM3 - the most that any place holds, from the last search; else the part `caught` is by the largest
 *   bowl.
 * Cost: a few sizings; where the place will not do, a look at allowed cells from there outwards until one does.
 */
export function askPlace(
  searched: SearchedLot,
  scan: Scan,
  frame: Frame,
  at: XY,
  weights: ScoreWeights,
  reachableM3?: number,
): PlaceAnswer {
  const { input } = searched;
  const most = reachableM3 ?? scan.possibleM3;
  const best = bestAt(searched, scan, at, most, weights);
  const lot = searched.lotAt(at);
  if (best !== null) {
    const here = candidateSite(best, {
      input,
      reachableM3: Math.max(most, best.scored.capturedM3),
      weights,
      simulated: null,
      gain: 0,
    });
    return { at, lot, forbidding: whyNotHere(searched.rules, at), here, nearest: null };
  }
  const atPoint = whyNotHere(searched.rules, at);
  const radiusM = Math.sqrt(searched.minAreaM2 / Math.PI);
  return {
    at,
    lot,
    forbidding: atPoint.some(({ row }) => row.binding === 'must')
      ? atPoint
      : whyNotHere(searched.rules, at, radiusM),
    here: null,
    nearest: nearestPlace(searched, frame, at),
  };
}

function bestAt(
  searched: SearchedLot,
  scan: Scan,
  at: XY,
  reachableM3: number,
  weights: ScoreWeights,
): Sized | null {
  let best: Sized | null = null;
  let most = -1;
  for (const partial of [false, true]) {
    for (const outline of scan
      .outlinesAt(at, searched.minAreaM2, reachableM3)
      .slice(0, outlinesTried)) {
      const found = searched.size(at, outline, partial);
      if (!found.fits) continue;
      const score = scoreOf(scoreParts(found.scored, reachableM3), weights);
      if (score > most) {
        most = score;
        best = found;
      }
    }
    // Only where nothing is large enough for what arrives is a smaller one better than none.
    if (best !== null) break;
  }
  return best;
}

function nearestPlace(searched: SearchedLot, frame: Frame, [x, y]: XY): NearestPlace | null {
  const { mesh } = searched.forbidden;
  const cells: { cell: number; squared: number }[] = [];
  for (let cell = 0; cell < mesh.columns * mesh.rows; cell++) {
    if (!searched.isAllowed(cell)) continue;
    const [cx, cy] = meshCentre(mesh, cell);
    cells.push({ cell, squared: (cx - x) ** 2 + (cy - y) ** 2 });
  }
  cells.sort((a, b) => a.squared - b.squared || a.cell - b.cell);
  for (const { cell, squared } of cells) {
    const at = meshCentre(mesh, cell);
    for (const outline of searched.outlines) {
      if (searched.margins.fitting(outline, at, searched.minAreaM2) === null) continue;
      const found = searched.size(at, outline, true);
      if (!found.fits) continue;
      const north = bearingVector(frame, [x, y], 0);
      const turn = Math.atan2(at[0] - x, at[1] - y) - Math.atan2(north[0], north[1]);
      return {
        at,
        rim: found.rim,
        form: outline.form,
        area_m2: found.areaM2,
        distance_m: Math.sqrt(squared),
        bearing_deg: ((turn * 180) / Math.PI + 360) % 360,
      };
    }
  }
  return null;
}

import { cellCentre } from '../../elevation/grid';
import { patchesOfCells } from '../../drainage/answer/contributing-area';
import type { XY } from '../../frame/frame';
import { areaM2, centroid, nearest, type Ring } from '../../frame/shapes';
import { bearingVector } from '../../frame/bearing-vector';
import { newId, type Part, type RemedyRule } from '../part';
import type { RemedySite } from '../site';
import { belowSiding } from '../figures';
import { digRules } from './dig-rules';

/** Filled ground falls this much towards where the water left, so that none stands on it. Our choice, no source. */
const fillFall = 0.02;
/** Over the way out, metres. Our choice, no source. */
const overSpillM = 0.01;
/** Filled ground may not come nearer to a septic field than this, metres: its cover is its own. Common practice, no source. */
const fromFieldM = 1.5;

/** Fills a water's ground up to a plane that falls to where it spills. */
export function fillHollow(site: RemedySite, hollow: number): Part[] {
  const { key, cells, levelM, pit } = site.hollows[hollow];
  const { terrain, ground } = site.shape;
  const { grid } = ground;
  const ring = simplified(largestRing(patchesOfCells(grid, cells)), grid.cellM);
  if (ring.length < 3 || isNearField(site, ring)) return [];
  const spill = terrain.tree.spillFrom[terrain.tree.root[terrain.catchment[pit]]];
  const middle = centroid([ring]);
  const out = cellCentre(grid, spill);
  const awayM = Math.hypot(out[0] - middle[0], out[1] - middle[1]);
  const elevationM = grid.datumM + levelM + overSpillM + fillFall * awayM;
  const shape = { type: 'polygon', rings: [ring] } as const;
  const nearM = Math.min(
    ...site.plan.of.building.map((each) => nearest(shape, each.shape).distanceM),
  );
  return [
    {
      key: 'fill',
      verb: 'fill-hollow',
      hollow: key,
      endsIn: null,
      puts: [
        site.polygon(newId(site.plan.byId, 'remedy-fill'), ring, {
          kind: 'regrade',
          name: 'Hollow filled',
          elevation_m: Math.round(elevationM * 1000) / 1000,
          slope: fillFall,
          bearing_deg: bearingOf(site, middle, out),
        }),
      ],
      deletes: [],
      route: [],
      lengthM: 0,
      deepestM: 0,
      trenchM3: 0,
      rules: [...digRules(site, shape), ...(nearM < 1 ? [raisedRule] : [])],
      figures: { area_m2: areaM2([ring]) },
      about: null,
    },
  ];
}

/** Earth against a wall must stay below siding, vents and window wells; how high those lie the plan does not say. */
export const raisedRule: RemedyRule = {
  rule: 'below-siding',
  result: 'check',
  why: 'Earth is raised at the wall: measure that it stays 15 cm below siding and below vents and window wells; the plan does not say how high they lie.',
  source: belowSiding.source,
};

/** Degrees clockwise from north of the way from one place to another. */
export function bearingOf({ frame }: RemedySite, from: XY, to: XY): number {
  const north = bearingVector(frame, from, 0);
  const turn = Math.atan2(to[0] - from[0], to[1] - from[1]) - Math.atan2(north[0], north[1]);
  const degrees = (turn * 180) / Math.PI;
  return Math.round((((degrees % 360) + 360) % 360) * 100) / 100;
}

function isNearField({ plan }: RemedySite, ring: Ring): boolean {
  const shape = { type: 'polygon', rings: [ring] } as const;
  return plan.of['septic-field'].some(
    (field) => nearest(shape, field.shape).distanceM < fromFieldM,
  );
}

function largestRing(patches: readonly XY[][][]): Ring {
  let best: Ring = [];
  for (const [outer] of patches) {
    if (best.length === 0 || areaM2([outer]) > areaM2([best])) best = outer;
  }
  return best;
}

/** A ring along cells with the corners taken out that lie within a tolerance of a straight line (Douglas and Peucker, from memory). */
export function simplified(ring: Ring, toleranceM: number): Ring {
  if (ring.length < 4) return ring;
  const half = Math.floor(ring.length / 2);
  const first = thinned(ring.slice(0, half + 1), toleranceM);
  const second = thinned([...ring.slice(half), ring[0]], toleranceM);
  return [...first.slice(0, -1), ...second.slice(0, -1)];
}

function thinned(line: Ring, toleranceM: number): XY[] {
  const [a, b] = [line[0], line[line.length - 1]];
  const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
  let worst = 0;
  let at = -1;
  for (let i = 1; i + 1 < line.length; i++) {
    const [x, y] = line[i];
    const off =
      lengthM === 0
        ? Math.hypot(x - a[0], y - a[1])
        : Math.abs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / lengthM;
    if (off > worst) [worst, at] = [off, i];
  }
  if (worst <= toleranceM) return [a, b];
  return [
    ...thinned(line.slice(0, at + 1), toleranceM).slice(0, -1),
    ...thinned(line.slice(at), toleranceM),
  ];
}

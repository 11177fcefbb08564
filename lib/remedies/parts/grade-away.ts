import type { XY } from '../../frame/frame';
import { distanceM, signedAreaM2, type Ring } from '../../frame/shapes';
import { heightAt } from '../../ground/height-at';
import { cellsInside } from '../../ground/rasterise';
import { groundWithoutBasins } from '../../ground/ground';
import { featureName } from '../../plan/feature-name';
import type { LocalFeature } from '../../plan/local-plan';
import { gradeAway } from '../figures';
import { newId, type Part } from '../part';
import type { RemedySite } from '../site';
import { digRules } from './dig-rules';
import { bearingOf, raisedRule } from './fill-hollow';

/** A wall shorter than this gets no plane of its own, metres. Our choice, no source. */
const leastWallM = 1;
/** Steps in which the ground at the wall is raised above where cut equals fill, metres, until the wall is dry. Our choice, no source. */
export const raisesM: readonly number[] = [0, 0.05, 0.1, 0.15, 0.2, 0.3];

/** One straight wall of a building with the strip of ground before it. */
interface WallStrip {
  readonly building: LocalFeature<'building'>;
  readonly ring: Ring;
  readonly out: XY;
  readonly wallM: number;
}

/** Grades the ground before each wall that a water is near to, at some heights; the least that dries is to be taken. */
export function gradesAway(site: RemedySite, hollow: number): Part[][] {
  const { key, cells, walls } = site.hollows[hollow];
  const { grid } = site.shape.ground;
  const wet = new Set(cells);
  return walls.flatMap(({ building }) =>
    stripsOf(building).flatMap((strip, side): Part[][] => {
      const inside = cellsInside(grid, [strip.ring]);
      if (!inside.some((cell) => wet.has(cell))) return [];
      return [raisesM.flatMap((raiseM) => gradePart(site, strip, side, raiseM, key))];
    }),
  );
}

function gradePart(
  site: RemedySite,
  { building, ring, out, wallM }: WallStrip,
  side: number,
  raiseM: number,
  hollow: string,
): Part[] {
  const bare = groundWithoutBasins(site.elevation, site.plan);
  const inside = cellsInside(bare, [ring]);
  let sum = 0;
  for (const cell of inside) sum += bare.z[cell];
  const meanM = sum / inside.length;
  if (Number.isNaN(meanM)) return [];
  const middle: XY = [
    (ring[0][0] + ring[1][0] + ring[2][0] + ring[3][0]) / 4,
    (ring[0][1] + ring[1][1] + ring[2][1] + ring[3][1]) / 4,
  ];
  const shape = { type: 'polygon', rings: [ring] } as const;
  const atWallM = meanM + raiseM + (gradeAway.fall * gradeAway.reachM) / 2;
  const raisedM = atWallM - heightAtWall(site, ring, out);
  return [
    {
      key: `grade-${building.id}-${side + 1}`,
      verb: 'grade-away',
      hollow,
      endsIn: null,
      puts: [
        site.polygon(newId(site.plan.byId, `remedy-grade-${building.id}-${side + 1}`), ring, {
          kind: 'regrade',
          name: `Ground graded away from ${featureName(building.feature)}`,
          elevation_m: Math.round((bare.datumM + meanM + raiseM) * 1000) / 1000,
          slope: gradeAway.fall,
          bearing_deg: bearingOf(site, middle, [middle[0] + out[0], middle[1] + out[1]]),
        }),
      ],
      deletes: [],
      route: [],
      lengthM: wallM,
      deepestM: 0,
      trenchM3: 0,
      rules: [
        {
          rule: 'fall-away',
          result: 'pass',
          why: 'The ground falls away from the wall by 5 % over 3.05 m.',
          source: gradeAway.source,
        },
        ...digRules(site, shape),
        ...(raisedM > 0.02 ? [raisedRule] : []),
      ],
      figures: { fall: gradeAway.fall, over_m: gradeAway.reachM, raised_m: Math.max(0, raisedM) },
      about: building.id,
    },
  ];
}

function heightAtWall(site: RemedySite, ring: Ring, out: XY): number {
  const bare = groundWithoutBasins(site.elevation, site.plan);
  const [a, b] = ring;
  const offM = bare.cellM;
  return heightAt(bare, [(a[0] + b[0]) / 2 + out[0] * offM, (a[1] + b[1]) / 2 + out[1] * offM]);
}

/** The strip before each wall, the wall's own corners first. */
function stripsOf(building: LocalFeature<'building'>): WallStrip[] {
  const outline = building.shape.rings[0];
  const turn = signedAreaM2(outline) > 0 ? 1 : -1;
  return outline.flatMap((from, i): WallStrip[] => {
    const to = outline[(i + 1) % outline.length];
    const wallM = distanceM(from, to);
    if (wallM < leastWallM) return [];
    const out: XY = [(turn * (to[1] - from[1])) / wallM, (turn * (from[0] - to[0])) / wallM];
    const reach: XY = [out[0] * gradeAway.reachM, out[1] * gradeAway.reachM];
    const ring: Ring = [
      from,
      to,
      [to[0] + reach[0], to[1] + reach[1]],
      [from[0] + reach[0], from[1] + reach[1]],
    ];
    return [{ building, ring, out, wallM }];
  });
}

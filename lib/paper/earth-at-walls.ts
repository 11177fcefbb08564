import { boundsOf, contains, nearestEdges, type Ring } from '../frame/shapes';
import type { XY } from '../frame/frame';
import { featureName } from '../plan/feature-name';
import type { LocalPlan } from '../plan/local-plan';
import { codeFall, wallReachM } from '../drainage/answer/wall-fall';
import type { Source } from '../source';
import { inchM } from '../units/units';

/** Siding and framing stay so far above the earth. */
export const sidingClear = {
  clearM: 6 * inchM,
  source: {
    title:
      'International Residential Code, R317.1: wood less than 6 in above earth needs protection',
    publisher: 'International Code Council, as quoted in a building code forum',
    year: 2018,
    mark: 'seen in a secondary copy',
  } satisfies Source,
} as const;

/** Earth that gives one building's walls the fall that the code asks for. */
export interface EarthAtWalls {
  readonly building: string;
  readonly name: string;
  /** Ground within the reach that is on the own lot and not built over. */
  readonly strip_m2: number;
  /** Ground within the reach that belongs to others: the fall ends at the line. */
  readonly beyond_lot_m2: number;
  /** In place, were the ground level now. */
  readonly if_level_m3: number;
  /** And where it falls towards the wall by one in a hundred now, for each such. */
  readonly more_for_each_percent_m3: number;
  /** How far the earth rises at the wall, were the ground level now. */
  readonly rises_m: number;
}

/** Side of the lattice that the strip is measured on, metres. */
const stepM = 0.1;

/**
 * Earth for the fall along the walls of each building that stands on the own lot, from level ground: a wedge that is highest
 * at the wall, round the corners as well, and ends at other walls and at the lot line. Without the heights of the ground
 * this is what level ground would ask for; a place that falls away already asks for less.
 *
 * Cost: about a microsecond for each tenth of a metre squared around the building and each of its walls.
 */
export function earthAtWalls(plan: LocalPlan): EarthAtWalls[] {
  const own = plan.of.lot.filter(({ feature }) => feature.properties.own);
  const buildings = plan.of.building;
  return buildings
    .filter(
      ({ shape }) =>
        own.length === 0 ||
        shape.rings[0].some((corner) => own.some((lot) => contains(lot.shape.rings, corner))),
    )
    .map(({ id, feature, shape }) => {
      const strip = stripAround(shape.rings[0], {
        isBuilt: (at) => buildings.some((other) => contains(other.shape.rings, at)),
        isOwn: (at) => own.length === 0 || own.some((lot) => contains(lot.shape.rings, at)),
      });
      return {
        building: id,
        name: featureName(feature),
        ...strip,
        more_for_each_percent_m3: strip.if_level_m3 / (100 * codeFall.ground),
        rises_m: codeFall.ground * wallReachM,
      };
    });
}

interface Around {
  readonly isBuilt: (at: XY) => boolean;
  readonly isOwn: (at: XY) => boolean;
}

function stripAround(
  ring: Ring,
  { isBuilt, isOwn }: Around,
): Pick<EarthAtWalls, 'strip_m2' | 'beyond_lot_m2' | 'if_level_m3'> {
  const withinM = wallReachM;
  const dropM = codeFall.ground * wallReachM;
  const { west, east, south, north } = boundsOf(ring);
  const walls = { type: 'polygon', rings: [ring] } as const;
  let cells = 0;
  let beyond = 0;
  let heightsM = 0;
  for (let y = south - withinM + stepM / 2; y < north + withinM; y += stepM) {
    for (let x = west - withinM + stepM / 2; x < east + withinM; x += stepM) {
      const at: XY = [x, y];
      if (isBuilt(at)) continue;
      const { distanceM: away } = nearestEdges({ type: 'point', at }, walls);
      if (away >= withinM) continue;
      if (!isOwn(at)) {
        beyond++;
        continue;
      }
      cells++;
      heightsM += dropM * (1 - away / withinM);
    }
  }
  const cellM2 = stepM ** 2;
  return {
    strip_m2: cells * cellM2,
    beyond_lot_m2: beyond * cellM2,
    if_level_m3: heightsM * cellM2,
  };
}

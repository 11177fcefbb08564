import { areaM2, type Rings } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { accuracyM, halfWidthM, nameOf } from '../rules/concerned';
import { grown } from '../measure/grown';
import { locateState, type LocateState } from './locates';
import type { Service } from './marking-colours';

/** Ground along one line in which only hand tools are used. */
export interface HandDigZone {
  readonly feature: string;
  readonly name: string;
  readonly service: Service;
  readonly state: LocateState;
  /** To each side of the line's middle, metres: the tolerance, half its width, and how far its place may be off. */
  readonly reachM: number;
  /** In local metres. */
  readonly polygons: readonly Rings[];
  readonly areaM2: number;
}

/**
 * The zone along each line of a plan in which it is dug by hand and the line exposed before anything else: the
 * tolerance to either side of the line as it is drawn. A line without a current locate has its zone too, but the line
 * may lie elsewhere: `state` says so.
 *
 * @param toleranceM - to each side of the line; by law 18 in (0.46 m) or 24 in (0.61 m) in many places.
 */
export async function handDigZones(
  plan: Pick<LocalPlan, 'of'>,
  toleranceM: number,
  today: string,
): Promise<HandDigZone[]> {
  const zones: HandDigZone[] = [];
  for (const line of plan.of.utility) {
    const reachM = toleranceM + halfWidthM(line) + accuracyM(line);
    const polygons = await grown(line.shape, reachM);
    zones.push({
      feature: line.id,
      name: nameOf(line),
      service: line.feature.properties.service,
      state: locateState(line.feature, today),
      reachM,
      polygons,
      areaM2: polygons.reduce((sum, rings) => sum + areaM2(rings), 0),
    });
  }
  return zones;
}

import { surveyLot, type Survey } from '../../lib/drainage/survey-lot';
import { ownLot } from '../../lib/plan/own-lot';
import { planArea } from '../../lib/plan/plan-area';
import type { Plan } from '../../lib/plan/schema';
import type { Call } from './command';
import { elevationOf, verticalUnitOf } from './inputs';
import { usage } from './usage';

/** Reads the ground around the own lot of a plan from the elevation that the call names. */
export async function survey(call: Call, plan: Plan, file: string): Promise<Survey> {
  ownLot(plan, file);
  const elevation = await elevationOf(call);
  if (elevation === null) {
    throw usage(
      'no elevation is named',
      'add --elevation and the path or address of a GeoTIFF (.tif)',
    );
  }
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line');
  return surveyLot(elevation, plan, {
    area,
    onProgress: call.onProgress,
    ...(await verticalUnitOf(call, plan, elevation, area)),
  });
}

import { surveyLevels } from '../../../lib/drainage/storm/survey-levels';
import { surveyLot, type Survey } from '../../../lib/drainage/storm/survey-lot';
import type { ElevationFile } from '../../../lib/elevation/file/open-elevation';
import { hasLevels } from '../../../lib/levels/readings';
import type { Note } from '../../../lib/elevation/note';
import { ageNotes } from '../../../lib/plan/age-words';
import { ownLot } from '../../../lib/plan/own-lot';
import { planOutline } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import type { Call } from '../command';
import { planOn } from './drawn-on';
import { elevationOf, verticalUnitOf } from './inputs';
import { usage } from '../usage';

/** Reads the ground around the own lot of a plan from the elevation that the call names. */
export async function survey(call: Call, named: Plan, file: string): Promise<Survey> {
  ownLot(named, file);
  return surveyLots(call, named, file);
}

/** What a review asks of a survey that one lot does not. */
interface ManyLots {
  /** Cells that are read at most. */
  readonly mostCells: number;
  /** Which lots are to be covered by the elevation: those that the plan it gives back marks as one's own. */
  readonly covered: (plan: Plan, elevation: ElevationFile) => Plan;
}

/** The same around all lots that a plan marks as one's own. */
export async function surveyLots(
  call: Call,
  named: Plan,
  file: string,
  many?: ManyLots,
): Promise<Survey> {
  const elevation = await elevationOf(call);
  if (elevation === null && hasLevels(named)) return surveyLevels(named, file);
  if (elevation === null) {
    throw usage(
      'no elevation is named',
      'add --elevation and the path or address of a GeoTIFF (.tif), or three and more levels to the plan (spot heights with elevation_m or drop_m)',
    );
  }
  const { plan, notes } = await planOn(many?.covered(named, elevation) ?? named, elevation);
  const area = planOutline(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line');
  const surveyed = await surveyLot(elevation, plan, {
    area,
    ...(many === undefined ? {} : { mostCells: many.mostCells }),
    onProgress: call.onProgress,
    ...(await verticalUnitOf(call, plan, elevation, area)),
  });
  const { writtenOn } = elevation.description;
  return noted(surveyed, [...notes, ...ageNotes(plan, surveyed.plan.frame, writtenOn)]);
}

/** A survey with more notes on its elevation, first. */
export function noted({ elevation, ...rest }: Survey, notes: readonly Note[]): Survey {
  return { ...rest, elevation: { ...elevation, notes: [...notes, ...elevation.notes] } };
}

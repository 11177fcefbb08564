import { InputError, throwIfCancelled, type Progress } from '../errors';
import type { ElevationFile } from '../elevation/open-elevation';
import { readWindow, type Elevation } from '../elevation/read-window';
import { makeFrame } from '../frame/frame';
import { toLocal, type LocalPlan } from '../plan/local-plan';
import type { LngLatBox } from '../plan/plan-area';
import type { Plan } from '../plan/schema';
import { contributingShare } from './contributing-share';
import { shapeSteps, type ShapedGround } from './shaped-ground';
import { withPauses } from './steps';
import type { Workspace } from './workspace';

/** A lot on its elevation, with the ground shaped. */
export interface Survey {
  readonly elevation: Elevation;
  readonly plan: LocalPlan;
  readonly shape: ShapedGround;
}

export interface SurveyOptions {
  /** Where to look: usually `planArea(plan)`. */
  readonly area: LngLatBox;
  /** Metres for one unit of the raster's heights, where its keys do not say. */
  readonly verticalUnitM?: number;
  readonly workspace?: Workspace;
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
  /** Lets others in between steps, see `withPauses`; without it the ground is shaped in one go. */
  readonly pause?: () => Promise<void>;
}

/** Ground first read around the area, metres, and how far it may grow. Choices, no source. */
const firstMarginM = 60;
const mostMarginM = 960;
/** A window larger than this is not read for one lot. */
const mostCells = 4_000_000;

/**
 * Reads elevation around a lot and shapes its ground, and reads on outwards until all ground that drains to the lot
 * is in the window, or the data end.
 *
 * @throws {InputError} what reading the window throws. @throws {Cancelled}
 */
export async function surveyLot(
  file: ElevationFile,
  plan: Plan,
  options: SurveyOptions,
): Promise<Survey> {
  const { signal, onProgress } = options;
  let survey = await surveyTo(file, plan, firstMarginM, options);
  for (let marginM = 2 * firstMarginM; marginM <= mostMarginM; marginM *= 2) {
    const grows = Object.values(survey.elevation.edges).includes('window');
    if (!grows || !isCut(survey.shape)) break;
    throwIfCancelled(signal);
    onProgress?.(
      0,
      `Ground beyond the window drains to the lot: reading to ${marginM} m around it`,
    );
    try {
      survey = await surveyTo(file, plan, marginM, options);
    } catch (error) {
      // The next larger window is more than one lot is worth: what is there stands, cut by its edge.
      if (error instanceof InputError && error.code === 'elevation-window-too-large') break;
      throw error;
    }
  }
  return survey;
}

async function surveyTo(
  file: ElevationFile,
  plan: Plan,
  marginM: number,
  options: SurveyOptions,
): Promise<Survey> {
  const { area, verticalUnitM, signal } = options;
  const elevation = await readWindow(file, {
    area,
    marginM,
    maxCells: mostCells,
    ...(verticalUnitM === undefined ? {} : { verticalUnitM }),
    ...(signal === undefined ? {} : { signal }),
  });
  throwIfCancelled(signal);
  const local = toLocal(plan, makeFrame(elevation.grid.frame));
  const steps = shapeSteps(elevation.grid, local, options.workspace);
  const shape = await withPauses(steps, options.pause ?? (() => Promise.resolve()), options);
  return { elevation, plan: local, shape };
}

/** Whether the ground that drains to the own lot runs into the window's edge. */
function isCut({ ground, routing }: ShapedGround): boolean {
  const own = ground.lots.find((lot) => lot.own);
  return own !== undefined && contributingShare(routing, own.cells).cutByEdge;
}

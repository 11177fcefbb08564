import { throwIfCancelled, type Progress } from '../../errors';
import type { Area } from '../../elevation/window/area';
import { warning, type Note } from '../../elevation/note';
import type { ElevationFile } from '../../elevation/file/open-elevation';
import type { Edge } from '../../elevation/window/plan-window';
import { readWindow, type Elevation } from '../../elevation/window/read-window';
import { inMillions } from '../../elevation/note';
import { makeFrame } from '../../frame/frame';
import { toLocal, type LocalPlan } from '../../plan/local-plan';
import type { Plan } from '../../plan/schema';
import { contributingShare } from '../terrain/contributing-share';
import type { CutSide } from '../terrain/cut-sides';
import { shapeSteps, type ShapedGround } from './shaped-ground';
import { withPauses } from '../steps';
import type { Workspace } from '../terrain/workspace';

/** A lot on its elevation, with the ground shaped. */
export interface Survey {
  readonly elevation: Elevation;
  readonly plan: LocalPlan;
  readonly shape: ShapedGround;
}

export interface SurveyOptions {
  /** Where to look: usually `planOutline(plan)`. */
  readonly area: Area;
  /** Metres for one unit of the raster's heights, where its keys do not say. */
  readonly verticalUnitM?: number;
  /** Cells that are read at most; 4 million when not given. */
  readonly mostCells?: number;
  readonly workspace?: Workspace;
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
  /** Lets others in between steps, see `withPauses`; without it the ground is shaped in one go. */
  readonly pause?: () => Promise<void>;
}

/** Ground first read around the area, metres, and how far it may grow. Our choices, no source. */
const firstMarginM = 60;
const mostMarginM = 960;
/** More cells than this are not read for one lot. */
const mostCellsOfLot = 4_000_000;

/**
 * Reads elevation around a lot and shapes its ground, and reads on outwards until all ground that drains to the lot
 * is in the window, the data end, or more would be read than one lot is worth: 960 m around it, or 4 million cells.
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
    const { edges } = survey.elevation;
    if (!cutSides(survey.shape).some((side) => side !== 'inside' && edges[side] === 'window'))
      break;
    throwIfCancelled(signal);
    onProgress?.(
      0,
      `Ground beyond the window drains to the lot: reading to ${marginM} m around it`,
    );
    survey = await surveyTo(file, plan, marginM, options);
  }
  const notes = cutNotes(survey, options.mostCells ?? mostCellsOfLot);
  return {
    ...survey,
    elevation: { ...survey.elevation, notes: [...survey.elevation.notes, ...notes] },
  };
}

async function surveyTo(
  file: ElevationFile,
  plan: Plan,
  marginM: number,
  options: SurveyOptions,
): Promise<Survey> {
  const { area, verticalUnitM, signal, mostCells = mostCellsOfLot } = options;
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

/** Says why not all ground that drains to the lot was read. */
function cutNotes({ elevation: { edges, marginM }, shape }: Survey, mostCells: number): Note[] {
  const ends = new Set(
    cutSides(shape).map((side): Edge => (side === 'inside' ? 'data' : edges[side])),
  );
  const notes: Note[] = [];
  if (ends.has('data')) {
    const text = 'Ground that drains to the lot reaches the edge of the elevation data.';
    notes.push(warning('cut-by-data', text));
  }
  if (ends.has('limit') || ends.has('window')) {
    const why = ends.has('limit')
      ? `${inMillions(mostCells)}, the most that are read for one lot, reach no farther`
      : 'more is not read for one lot';
    const text = `Ground that drains to the lot runs on beyond the ${Math.floor(marginM)} m around it that were read: ${why}.`;
    notes.push(warning('cut-by-limit', text));
  }
  return notes;
}

/** On which sides the ground that drains to the own lots runs into the end of what was read. */
export function cutSides({ ground, routing }: ShapedGround): readonly CutSide[] {
  const cells = ground.lots.filter((lot) => lot.own).flatMap((lot) => [...lot.cells]);
  return contributingShare(routing, cells).cutSides;
}

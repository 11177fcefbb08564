import { surveyLot } from '../../../lib/drainage/storm/survey-lot';
import { elevationIdentity } from '../../../lib/elevation/file/elevation-identity';
import {
  openElevation,
  type ElevationDescription,
  type ElevationFile,
} from '../../../lib/elevation/file/open-elevation';
import { assert, Cancelled, throwIfCancelled, type Progress } from '../../../lib/errors';
import { planOutline, type LngLatBox } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import type { GroundPicture, OpenedElevation, PageSource } from './analysis-api';
import { groundPicture } from './ground-picture';
import { LotGround } from './lot-ground';
import { pauseNowAndThen, Turns } from './turns';

/** A window around the middle of a raster on which nothing is drawn yet, metres. */
const firstLookM = 250;

/**
 * What the worker knows between calls: opened files and the grounds read from them, by the numbers of the tasks that
 * opened and read them. The page says which of them it goes on with.
 */
export class Analyst {
  readonly #files = new Map<number, ElevationFile>();
  readonly #grounds = new Map<number, LotGround>();
  /** One for all grounds. */
  readonly #turns = new Turns();

  async open(number: number, source: PageSource, signal: AbortSignal): Promise<OpenedElevation> {
    const file = await openElevation(source, { signal });
    const identity = await elevationIdentity(file, 'blob' in source, signal);
    throwIfCancelled(signal);
    this.#files.set(number, file);
    return { file: number, description: file.description, identity };
  }

  /** Reads the ground around a plan. It is shaped beside those that there are, which it leaves as they are. */
  async survey(
    number: number,
    from: { readonly file: number; readonly verticalUnitM: number | null },
    plan: Plan,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<GroundPicture> {
    const file = this.#files.get(from.file);
    assert(file !== undefined, 'a survey needs an open file');
    const survey = await surveyLot(file, plan, {
      area: planOutline(plan) ?? middleOf(file.description),
      signal,
      onProgress,
      pause: pauseNowAndThen(),
      ...(from.verticalUnitM === null ? {} : { verticalUnitM: from.verticalUnitM }),
    });
    throwIfCancelled(signal);
    const picture = groundPicture(
      number,
      survey.elevation,
      plan.lotfall.units ?? 'metric',
      onProgress,
    );
    this.#grounds.set(number, new LotGround(number, from.file, survey, this.#turns));
    return picture;
  }

  /** The ground of a survey. @throws {Cancelled} when the page has gone on to another. */
  groundOf(number: number): LotGround {
    const ground = this.#grounds.get(number);
    if (ground === undefined) throw new Cancelled();
    return ground;
  }

  /** Forgets all grounds but one, and the files opened before its own. */
  goOnWith(number: number): void {
    const ground = this.#grounds.get(number);
    if (ground === undefined) return;
    for (const other of this.#grounds.keys()) if (other !== number) this.#grounds.delete(other);
    for (const file of this.#files.keys()) if (file < ground.file) this.#files.delete(file);
  }
}

/** The middle of a raster, as far as a first look needs. */
function middleOf({ bounds }: ElevationDescription): LngLatBox {
  const lng = (bounds.west + bounds.east) / 2;
  const lat = (bounds.south + bounds.north) / 2;
  const metresPerDegree = 111_320;
  const dLat = Math.min((bounds.north - bounds.south) / 4, firstLookM / 2 / metresPerDegree);
  const perLng = metresPerDegree * Math.cos((lat * Math.PI) / 180);
  const dLng = Math.min((bounds.east - bounds.west) / 4, firstLookM / 2 / perLng);
  return [lng - dLng, lat - dLat, lng + dLng, lat + dLat];
}

import { drainLot } from '../../../lib/drainage/drain-lot';
import { usualRmseM } from '../../../lib/drainage/error-defaults';
import { flowLines } from '../../../lib/drainage/flow-lines';
import { ledger } from '../../../lib/drainage/ledger';
import { probePoint, type PointAnswer } from '../../../lib/drainage/probe-point';
import { shapeGround, type ShapedGround } from '../../../lib/drainage/shaped-ground';
import { stormOnGround, type StormOnGround } from '../../../lib/drainage/storm-on-ground';
import { surveyLot } from '../../../lib/drainage/survey-lot';
import { Workspace } from '../../../lib/drainage/workspace';
import { chooseInterval, contours } from '../../../lib/elevation/contours';
import {
  openElevation,
  type ElevationDescription,
  type ElevationFile,
} from '../../../lib/elevation/open-elevation';
import type { Elevation } from '../../../lib/elevation/read-window';
import { shade } from '../../../lib/elevation/shade';
import { assert, InputError, throwIfCancelled, type Progress } from '../../../lib/errors';
import { makeFrame, type LngLat } from '../../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import { planArea, type LngLatBox } from '../../../lib/plan/plan-area';
import type { Kind, Plan } from '../../../lib/plan/schema';
import { findSites } from '../../../lib/siting/find-sites';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { gridCorners } from '../map/grid-corners';
import type { GroundPicture, PageSource, PlacesPicture, WaterPicture } from './analysis-api';

/** Kinds whose place or properties change the ground itself; the others only change what runs over it. */
const groundKinds: readonly Kind[] = [
  'lot',
  'spot-height',
  'regrade',
  'swale',
  'berm',
  'basin',
  'wall',
  'kerb',
  'building',
  'roof',
  'drain-pipe',
  'yard-drain',
  // A pipe that one leads into is closed at its upper end.
  'downspout',
];
/** Flow lines start where this much open ground drains through, m2. A choice for legibility. */
const lineFromM2 = 30;
/** A window around the middle of a raster on which nothing is drawn yet, metres. */
const firstLookM = 250;

/** A shaped ground that is kept as long as the features that make it stay the same. */
class Kept {
  readonly #workspace = new Workspace();
  #key = '';
  #shape: ShapedGround | null = null;

  shape(elevation: Elevation, plan: LocalPlan, onProgress: Progress): ShapedGround {
    const key = groundKey(plan);
    if (this.#shape === null || key !== this.#key) {
      this.#shape = shapeGround(elevation.grid, plan, { workspace: this.#workspace, onProgress });
      this.#key = key;
    }
    return this.#shape;
  }

  /** Takes over a ground that has been shaped elsewhere. */
  take(shape: ShapedGround, plan: LocalPlan): void {
    this.#shape = shape;
    this.#key = groundKey(plan);
  }

  forget(): void {
    this.#shape = null;
  }
}

/** The same for plans that make the same ground. */
function groundKey({ plan }: LocalPlan): string {
  return JSON.stringify(
    plan.features.filter((feature) => groundKinds.includes(feature.properties.kind)),
  );
}

/** What the worker knows between calls: the open file, the window around the lot, the ground with and without basins. */
export class Analyst {
  #file: ElevationFile | null = null;
  /** Opened but not yet read from: the ground on the sheet still comes from `#file`. */
  #opened: ElevationFile | null = null;
  #elevation: Elevation | null = null;
  readonly #with = new Kept();
  readonly #without = new Kept();

  async open(source: PageSource, signal: AbortSignal): Promise<ElevationDescription> {
    this.#opened = await openElevation(source, { signal });
    return this.#opened.description;
  }

  async survey(
    plan: Plan,
    verticalUnitM: number | null,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<GroundPicture> {
    const file = this.#opened ?? this.#file;
    assert(file !== null, 'a survey needs an open file');
    this.#opened = null;
    const {
      elevation,
      plan: local,
      shape,
    } = await surveyLot(file, plan, {
      area: planArea(plan) ?? middleOf(file.description),
      signal,
      onProgress,
      ...(verticalUnitM === null ? {} : { verticalUnitM }),
    });
    throwIfCancelled(signal);
    this.#file = file;
    this.#elevation = elevation;
    this.#with.take(shape, local);
    this.#without.forget();
    return drawGround(elevation, onProgress);
  }

  drain(plan: Plan, onProgress: Progress): WaterPicture {
    const { elevation, local, shape, storm } = this.#storm(plan, onProgress);
    onProgress(0.6, 'Adding up the water');
    const result = drainLot(shape, storm, local, {
      crs: elevation.systemName,
      rmseM: plan.lotfall.elevation?.rmse_m ?? usualRmseM,
    });
    return {
      result,
      ...this.#before(plan, onProgress),
      depthM: storm.depthM.slice(),
      flowLines: flowLines(shape, local.frame, lineFromM2),
    };
  }

  probe(plan: Plan, at: LngLat): PointAnswer | null {
    const { local, shape, storm } = this.#storm(plan, () => undefined);
    return probePoint(shape, storm, local, at);
  }

  /** Looks over the whole lot for places, on the ground as it is without any basin. */
  async places(
    plan: Plan,
    today: string,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<PlacesPicture> {
    const { local, shape, storm } = this.#bare(plan, onProgress);
    const { sites, ...answer } = await findSites(
      { elevation: this.elevation, plan: local, shape, storm, today },
      { signal, onProgress },
    );
    return {
      places: sites.map((site) => ({
        site,
        at: local.frame.toLngLat(site.at),
        ring: [...site.rim, site.rim[0]].map((at) => local.frame.toLngLat(at)),
      })),
      answer,
    };
  }

  #storm(
    plan: Plan,
    onProgress: Progress,
  ): { elevation: Elevation; local: LocalPlan; shape: ShapedGround; storm: StormOnGround } {
    const elevation = this.elevation;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    const shape = this.#with.shape(elevation, local, onProgress);
    return {
      elevation,
      local,
      shape,
      storm: stormOnGround(shape, local, eventDepthMm(plan.lotfall)),
    };
  }

  /** The same storm on the ground without basins. */
  #before(plan: Plan, onProgress: Progress): Pick<WaterPicture, 'before' | 'depthBeforeM'> {
    if (!plan.features.some((feature) => feature.properties.kind === 'basin')) {
      return { before: null, depthBeforeM: null };
    }
    const { local, shape, storm } = this.#bare(plan, onProgress);
    const lot = shape.ground.lots.findIndex(({ own }) => own);
    return {
      before: lot === -1 ? null : ledger(shape, storm, local, lot),
      depthBeforeM: storm.depthM.slice(),
    };
  }

  /** The plan without its basins, and the same storm on its ground. */
  #bare(
    plan: Plan,
    onProgress: Progress,
  ): { local: LocalPlan; shape: ShapedGround; storm: StormOnGround } {
    const features = plan.features.filter((feature) => feature.properties.kind !== 'basin');
    const local = toLocal({ ...plan, features }, makeFrame(this.elevation.grid.frame));
    const shape = this.#without.shape(this.elevation, local, onProgress);
    return { local, shape, storm: stormOnGround(shape, local, eventDepthMm(plan.lotfall)) };
  }

  get elevation(): Elevation {
    if (this.#elevation !== null) return this.#elevation;
    throw new InputError({
      code: 'no-elevation',
      where: 'elevation',
      problem: 'no elevation has been read for this place yet',
      remedy: 'open an elevation GeoTIFF that covers the lot',
    });
  }
}

function drawGround(elevation: Elevation, onProgress: Progress): GroundPicture {
  const { grid, notes, lowestM, highestM } = elevation;
  onProgress(0.5, 'Shading relief');
  const data = shade(grid);
  onProgress(0.7, 'Drawing contours');
  const contourIntervalM = chooseInterval(highestM - lowestM);
  const frame = makeFrame(grid.frame);
  return {
    grid,
    relief: {
      image: { width: grid.width, height: grid.height, data },
      corners: gridCorners(grid),
    },
    contours: contours(grid, { intervalM: contourIntervalM }).map((level) => ({
      ...level,
      lines: level.lines.map((line) => line.map((at) => frame.toLngLat(at))),
    })),
    contourIntervalM,
    notes,
    heightsIn: elevation.vertical.name,
    reliefM: highestM - lowestM,
  };
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

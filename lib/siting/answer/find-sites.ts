import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import type { StormOnGround } from '../../drainage/storm/storm-on-ground';
import { outlineFiller, type GroundMix } from '../../basin/filling/outline-filler';
import { assumedSoilNote, sizingSoil } from '../../basin/form/size-factors';
import type { Elevation } from '../../elevation/window/read-window';
import { InputError } from '../../errors';
import type { XY } from '../../frame/frame';
import { areaM2 } from '../../frame/shapes';
import { groundWithoutBasins } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import type { FeatureOf, Settings } from '../../plan/schema';
import { clearLocates } from '../../setback/locate/locates';
import { ruleSetOf } from '../../setback/sets/rule-sets';
import { designInfiltration } from '../../soil/design-infiltration';
import { askPlace, type PlaceAnswer } from './ask-place';
import { lotCatchments } from '../water/lot-catchments';
import { Scan } from '../search/scan';
import { readWeights } from '../sizing/score';
import { emptyResult, searchSites, type SearchOptions } from '../search/search-sites';
import { SearchedLot } from '../sizing/searched-lot';
import type { SiteSimulator, SitingInput } from '../sizing/siting-input';
import type { SitingResult } from '../sizing/siting-result';

/** A lot with its storm, as the search is asked about it. */
export interface SitesQuestion {
  readonly elevation: Elevation;
  readonly plan: LocalPlan;
  /** The ground without the basin that is looked for. */
  readonly shape: ShapedGround;
  readonly storm: StormOnGround;
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** How many basins may share the water; 1 when not given. */
  readonly basins?: number;
}

/**
 * Looks over the whole of the own lots for places for a basin under the plan's rules, weights, soil and storm.
 *
 * @returns no sites, and a note that says why, where the elevation refuses siting (cells coarser than 5 m at the
 *   source, however fine the grid that was interpolated from them).
 * @throws {Cancelled}
 */
export async function findSites(
  question: SitesQuestion,
  options: SearchOptions = {},
): Promise<SitingResult> {
  const { elevation, plan } = question;
  const refusal = elevation.notes.find((note) => note.refusesSiting === true);
  if (refusal !== undefined) {
    const own = plan.of.lot.filter((lot) => lot.feature.properties.own);
    return {
      ...emptyResult,
      lot_m2: own.reduce((sum, lot) => sum + areaM2(lot.shape.rings), 0),
      notes: [{ code: 'cells-too-coarse', text: refusal.text }],
    };
  }
  const found = await searchSites(sitingInput(question), options);
  const { notes } = readWeights(plan.plan.lotfall.site_weights);
  return {
    ...found,
    notes: [
      ...found.notes,
      ...notes.map((text) => ({ code: 'weights' as const, text })),
      ...soilNotes(plan).map((text) => ({ code: 'soil' as const, text })),
    ],
  };
}

/** What has to be said of the soil that sizes and times go by. */
function soilNotes({ plan, of }: LocalPlan): string[] {
  const tests = of['soil-test'].map(({ feature }) => feature);
  const { soil, notes } = designInfiltration(plan.lotfall.soil, tests);
  return [...(sizingSoil(soil.broad).assumed ? [assumedSoilNote] : []), ...notes];
}

/**
 * Why here, or why not: what the rules say to a basin with its middle at a place, what it would catch there, or where
 * the nearest place is that would do.
 *
 * @param reachableM3 - that of the last search, for a score that can be compared with its sites.
 */
export function askLot(question: SitesQuestion, at: XY, reachableM3?: number): PlaceAnswer {
  const input = sitingInput(question);
  const searched = new SearchedLot(input);
  const { weights } = readWeights(input.weights);
  return askPlace(searched, new Scan(searched), question.plan.frame, at, weights, reachableM3);
}

function sitingInput({ elevation, plan, shape, storm, today, basins }: SitesQuestion): SitingInput {
  const settings = plan.plan.lotfall;
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const { rateMPerS, soil } = designInfiltration(settings.soil, tests);
  const ground = openGround(shape, storm);
  return {
    plan,
    elevation: groundWithoutBasins(elevation.grid, plan),
    ruleSet: ruleSetOf(settings),
    today,
    locates: clearLocates(plan),
    catchments: lotCatchments(shape, storm, plan),
    soil: sizingSoil(soil.broad).texture,
    soilSettings: settings.soil,
    ...(rateMPerS === null ? {} : { infiltrationMPerS: rateMPerS }),
    runOffDepthM: ground.runOffM,
    roofRunOffM: storm.roofRunOffM,
    standingDepthM: storm.depthM,
    weights: readWeights(settings.site_weights).weights,
    simulate: simulator(settings, tests, ground.mix),
    ...(basins === undefined ? {} : { basins }),
  };
}

/** Sends the plan's storm through outlines; why not, where the plan does not say enough of soil or storm. */
function simulator(
  settings: Settings,
  tests: readonly FeatureOf<'soil-test'>[],
  mix: GroundMix,
): SiteSimulator | { readonly unknown: string } {
  try {
    return outlineFiller(settings, tests, mix);
  } catch (error) {
    // A pattern without its table, for one: the search itself needs no more than the depth.
    if (error instanceof InputError) return { unknown: error.message };
    throw error;
  }
}

/** The own lots' open ground: what it is made of, and the mean depth that runs off it, metres. */
function openGround(
  { ground }: ShapedGround,
  { surfaces, classRunOffMm }: StormOnGround,
): { readonly mix: GroundMix; readonly runOffM: number } {
  const cells = new Float64Array(surfaces.classes.length);
  let count = 0;
  for (const lot of ground.lots) {
    if (!lot.own) continue;
    for (const cell of lot.cells) {
      if (ground.sheltered[cell] === 1) continue;
      cells[surfaces.classOf[cell]]++;
      count++;
    }
  }
  const mix = surfaces.classes.flatMap((surface, i) =>
    cells[i] === 0 ? [] : [{ surface, share: cells[i] / count }],
  );
  let runOffMm = 0;
  cells.forEach((part, i) => {
    runOffMm += part === 0 ? 0 : (part / count) * classRunOffMm[i];
  });
  return { mix, runOffM: runOffMm / 1000 };
}

/**
 * A program as somebody might write it with the library: what the four commands say of a plan on its elevation, as
 * one JSON document. `verdicts <plan> <elevation> <day>`.
 */
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import {
  builtOf,
  checkedBasins,
  checkSetbacks,
  clearLocates,
  designBasins,
  drainLot,
  drawnOn,
  elevationIdentity,
  eventDepthMm,
  eventDuration,
  findSites,
  InputError,
  onElevation,
  openElevation,
  ownLot,
  planOutline,
  readPlan,
  ruleSetsOf,
  stormOnGround,
  surveyLot,
  uptakeOf,
  waterAtBasins,
  withUptake,
  type Plan,
  type SetbackFindings,
  type Survey,
} from '../../../lib/index';

const [planPath = '', elevationPath = '', today = ''] = process.argv.slice(2);

/** The ground around the lot, on the elevation that the plan names if it is that one. */
async function surveyOf(named: Plan): Promise<Survey> {
  const elevation = await openElevation({ name: basename(elevationPath), path: elevationPath });
  const identity = await elevationIdentity(elevation, named.lotfall.elevation?.crc32 !== undefined);
  const plan = drawnOn(named, identity) === 'other' ? onElevation(named, identity) : named;
  ownLot(plan, basename(planPath));
  const area = planOutline(plan);
  if (area === null) throw new Error('the plan is empty');
  return surveyLot(elevation, plan, { area });
}

function setbacksOf(survey: Survey): SetbackFindings {
  const { plan, elevation } = survey;
  const { lotfall } = plan.plan;
  const { chosen: ruleSet } = ruleSetsOf(lotfall);
  const water = waterAtBasins(survey, ruleSet);
  return checkSetbacks({
    plan,
    basins: checkedBasins(plan).map((basin) => ({
      ...basin,
      ...water.overflow.get(basin.id),
      drainDownH: water.drainDownH.get(basin.id),
    })),
    ruleSet,
    elevation: elevation.grid,
    locates: clearLocates(plan),
    today,
    soil: lotfall.soil,
    standing: water.standing,
  });
}

try {
  const { plan } = readPlan(await readFile(planPath, 'utf8'), basename(planPath));
  const survey = await surveyOf(plan);
  const { elevation, plan: local, shape } = survey;
  const { lotfall } = local.plan;
  const rainMm = eventDepthMm(lotfall);

  const storm = stormOnGround(shape, local, rainMm);
  const design = designBasins({ elevation: elevation.grid, plan: local, shape, storm });
  const taking = withUptake(shape, uptakeOf(design), eventDuration(lotfall).hours);
  const drainage = drainLot(taking, stormOnGround(taking, local, rainMm), local, {
    crs: elevation.systemName,
    built: builtOf(design),
    order: true,
    ...(lotfall.elevation?.rmse_m === undefined ? {} : { rmseM: lotfall.elevation.rmse_m }),
  });

  const bare = await surveyOf({
    ...plan,
    features: plan.features.filter(({ properties }) => properties.kind !== 'basin'),
  });
  const sites = await findSites({
    elevation: bare.elevation,
    plan: bare.plan,
    shape: bare.shape,
    storm: stormOnGround(bare.shape, bare.plan, rainMm),
    today,
  });
  console.log(JSON.stringify({ setbacks: setbacksOf(survey), design, drainage, sites }));
} catch (error) {
  if (!(error instanceof InputError)) throw error;
  console.error(error.message);
  process.exitCode = 2;
}

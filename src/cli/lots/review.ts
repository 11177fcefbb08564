import { basename } from 'node:path';
import { atOnce } from '../../../lib/drainage/steps';
import { toLocal } from '../../../lib/plan/local-plan';
import { featuresOf } from '../../../lib/plan/schema';
import { beforeGardens, withAllLots } from '../../../lib/review/before-gardens';
import { lotsCovered } from '../../../lib/review/lots-covered';
import { chooseGardens } from '../../../lib/review/choose-gardens';
import { usualLotSurfaces, type LotErrors } from '../../../lib/review/lot-certainty';
import { lineTable, lotLayer, lotTable, originTable } from '../../../lib/review/review-table';
import { reviewFeatures } from '../../../lib/review/review-features';
import { reviewSteps } from '../../../lib/review/review-lots';
import type { ReviewResult } from '../../../lib/review/review-result';
import { planIn } from '../../../lib/plan/plan-state';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { geoPackageOf } from '../../../lib/handover/export/write-geopackage';
import type { Plan } from '../../../lib/plan/schema';
import { parseArea } from '../../../lib/units/parse-area';
import type { Call, Command } from '../command';
import {
  elevationHelp,
  elevationOptions,
  planOf,
  rainHelp,
  rainNotes,
  rainOption,
  withRain,
} from '../reading/inputs';
import { sentences } from '../notes';
import { layered, layerHelp, layerOptions, namesLayers } from './layers';
import { reviewText } from './review-text';
import { summaryText } from './summary-text';
import { certaintyAsked, certaintyOptions, type CertaintyAsked } from '../water/certainty';
import { surveyLots } from '../reading/survey';
import { usage } from '../usage';
import { expectFolder } from '../reading/folder';
import { writeWhole } from '../writing/write-whole';

/** Cells that are read at most for all lots of a review. Our choice: some 2 GB. */
const mostCells = 12_000_000;

/** `lotfall review`: every lot of a street in one storm, before and after its gardens, and who is worse off. */
export const review: Command = {
  name: 'review',
  summary: 'every lot of a street: which sends water to which, before and after the gardens',
  help: `Usage: lotfall review <plan.geojson> --elevation <files> [--rain 25mm] [--folder <folder>]
       lotfall review --parcels <file> [--buildings <file>] … --elevation <files>

${elevationHelp}
${layerHelp}
${rainHelp}
  --folder <folder>                     lots.csv, lots.gpkg, lots.geojson, lines.csv, review.json, review.txt, a summary of one
                                        page and a manifest of them
  --garden-area <area>                  also which of the proposed gardens to dig first, and the best set of them that this
                                        area allows, for example 60m2: every trial is a storm, so it takes a while
  --origins                             also where the water of each lot ends, whatever it crosses on the way, with the
                                        gardens: origins.csv, 'origins' in JSON
  --certainty [--surfaces <n>] [--error <length>]
                                        also how sure that is for each lot, given the error of the elevation: before and
                                        after on ${usualLotSurfaces} equally likely surfaces, or on as many as you say
  --json                                the whole answer as JSON
  --out <file>                          .csv for the lots, .geojson for the lots as features; .json or .txt

Before is the plan without what is only proposed and without basins that are not marked as existing; after is the plan as
it will be. Each basin takes in what its filling over time says, as in design. A lot is whole where all ground that
drains to it is in the elevation, cut where more may come than is seen, outside where nothing is known of it.
Exit status 1 when any lot is worse off.`,
  options: {
    ...elevationOptions,
    ...rainOption,
    ...layerOptions,
    ...certaintyOptions,
    folder: { type: 'string' },
    'garden-area': { type: 'string' },
    origins: { type: 'boolean' },
  },
  forms: ['.csv', '.geojson'],
  async run(call) {
    const folder = call.option('folder');
    if (folder !== undefined) await expectFolder(folder, 'files');
    const budget = call.option('garden-area');
    const sure = certaintyAsked(call);
    const origins = call.flag('origins');
    const { plan: given, file, notes } = await givenTo(call);
    if (featuresOf(given, 'lot').length === 0)
      throw usage(`${file} has no lots`, 'draw the lot lines, or bring them in with gather');
    const units = given.lotfall.units ?? 'metric';
    const budgetM2 = budget === undefined ? null : parseArea(budget, units, '--garden-area');
    const named = withRain(withAllLots(given), call.option('rain'));
    const { elevation, plan, shape } = await surveyLots(call, planIn(named, 'proposed'), file, {
      mostCells,
      covered: (lots, on) => lotsCovered(lots, on, file),
    });
    const before = toLocal({ ...beforeGardens(named), lotfall: plan.plan.lotfall }, plan.frame);
    const rainMm = eventDepthMm(plan.plan.lotfall);
    const errors = sure === null ? null : lotErrors(sure, elevation, plan.plan);
    const found = atOnce(reviewSteps({ shape, plan, before, rainMm, origins }, errors), {
      onProgress: call.onProgress,
    });
    const choice =
      budgetM2 === null
        ? null
        : atOnce(chooseGardens({ shape, plan, rainMm }, budgetM2), { onProgress: call.onProgress });
    const result: ReviewResult = {
      ...found,
      ...(choice === null ? {} : { gardens: choice }),
      notes: sentences(
        notes,
        elevation.notes.map((note) => note.text),
        found.notes,
        rainNotes(plan.plan),
      ),
    };
    const title = given.lotfall.name ?? file;
    const text = reviewText(result, title, units);
    const forms = {
      '.csv': lotTable(result),
      '.geojson': `${JSON.stringify(reviewFeatures(result, given), null, 1)}\n`,
    };
    const written =
      folder === undefined
        ? []
        : await writeWhole(folder, {
            'lots.csv': forms['.csv'],
            'lines.csv': lineTable(result),
            ...(result.origins === undefined ? {} : { 'origins.csv': originTable(result.origins) }),
            'lots.geojson': forms['.geojson'],
            'lots.gpkg': geoPackageOf([lotLayer(result, given)]),
            'review.json': `${JSON.stringify(result, null, 1)}\n`,
            'review.txt': `${text}\n`,
            'summary.txt': `${summaryText(result, title, units)}\n`,
          });
    return {
      text: [text, ...written.map((path) => `Wrote ${path}`)].join('\n'),
      json: result,
      files: forms,
      ruleFails: result.lots.some(({ worse }) => worse.length > 0),
    };
  },
};

/** The plan that is named, that which the named layers make, or the one with the other. */
async function givenTo(
  call: Call,
): Promise<Pick<Awaited<ReturnType<typeof planOf>>, 'plan' | 'file' | 'notes'>> {
  if (!namesLayers(call)) return planOf(call);
  const named = call.words.length === 0 ? null : await planOf(call);
  const { plan, notes } = await layered(call, named?.plan ?? null);
  const file = basename(call.option('parcels') ?? named?.file ?? 'the layers');
  return { plan, file, notes: [...(named?.notes ?? []), ...notes] };
}

const seed = 1;

/** The error that the call names, else that of the plan, the file or the usual kind of data. */
function lotErrors(
  { surfaces = usualLotSurfaces, rmsesM }: CertaintyAsked,
  { grid, statedErrorM }: Survey['elevation'],
  { lotfall }: Plan,
): LotErrors {
  const rmseM = rmsesM.at(0) ?? lotfall.elevation?.rmse_m ?? statedErrorM;
  const errors = errorsOf(grid.cellM, rmseM === null ? {} : { rmseM });
  return { errors, seed, surfaces };
}

import { sizingSoil } from '../../../lib/basin/form/size-factors';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import { contributingShare } from '../../../lib/drainage/terrain/contributing-share';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { Plan } from '../../../lib/plan/schema';
import { ruleSetsOf } from '../../../lib/setback/sets/rule-sets';
import { askLot, findSites } from '../../../lib/siting/answer/find-sites';
import { expectNearLot } from '../../../lib/siting/answer/near-lot';
import { nearTies, nearTieWords } from '../../../lib/siting/answer/near-ties';
import { defaultWeightsSource, readWeights } from '../../../lib/siting/sizing/score';
import { planSoil } from '../../../lib/soil/plan-soil';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { formatRain } from '../../../lib/units/format';
import type { Command } from '../command';
import { dayHelp, dayOf, dayOption } from '../reading/day';
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
import { hasNoGround, onPaperAnswer, paperHelp } from '../paper/paper';
import { sitesCollection, sitesDocument } from './sites-document';
import { basinsOf, askedPlace, sitesHelp, sitesOptions, withWeights } from './sites-options';
import { sitesText } from './sites-text';
import { survey } from '../reading/survey';

/** `lotfall sites`: ranked places for a basin that keep every binding rule. */
export const sites: Command = {
  name: 'sites',
  summary: 'ranked places for a basin, with what each catches and the parts of its score',
  help: `Usage: lotfall sites <plan.geojson> [--elevation <file.tif|https://…>] [--rain 25mm]

${elevationHelp}
${rainHelp}
${dayHelp}
${sitesHelp}
  --json                                the whole answer as JSON
  --out <file>                          .geojson for the outlines and lead-ins; .json or .txt

Looks at the ground without the basins that the plan already has. A place where a rule cannot be judged yet is listed
and says so. Where nothing complies, the answer names the rules that rule out most and what would change it.

${paperHelp}`,
  options: { ...elevationOptions, ...rainOption, ...dayOption, ...sitesOptions },
  forms: ['.geojson'],
  async run(call) {
    const { plan: read, file, notes } = await planOf(call);
    if (hasNoGround(call, read)) return onPaperAnswer(call, { plan: read, file, notes });
    const plan = withWeights(read, call);
    const today = dayOf(call);
    const basins = basinsOf(call);
    const asks = askedPlace(call);
    if (asks !== null) expectNearLot(plan, asks);
    const {
      elevation,
      plan: local,
      shape,
    } = await survey(call, withoutBasins(withRain(plan, call.option('rain'))), file);
    const rainMm = eventDepthMm(local.plan.lotfall);
    const storm = stormOnGround(shape, local, rainMm);
    const question = { elevation, plan: local, shape, storm, today, basins };
    const found = await findSites(question, { onProgress: call.onProgress });
    const isRefused = found.notes.some(({ code }) => code === 'cells-too-coarse');
    const asked =
      asks === null || isRefused
        ? null
        : askLot(
            question,
            local.frame.toLocal(asks),
            found.reachable_m3 > 0 ? found.reachable_m3 : undefined,
          );
    const { weights } = readWeights(plan.lotfall.site_weights);
    const rmseM = plan.lotfall.elevation?.rmse_m;
    const errors = errorsOf(elevation.grid.cellM, rmseM === undefined ? {} : { rmseM });
    const ties = nearTies(found.sites, weights, errors);
    const remarks = sentences(
      nearTieWords(ties),
      found.notes.filter(({ code }) => code !== 'cells-coarse').map((note) => note.text),
      notes,
      ruleSetsOf(plan.lotfall).problems,
      elevation.notes.map((note) => note.text),
      rainNotes(local.plan),
      storm.surfaces.notes,
      storm.roofs.notes,
      storm.notes,
      cutShort(shape),
    );
    const tests = local.of['soil-test'].map(({ feature }) => feature);
    const units = plan.lotfall.units ?? 'metric';
    return {
      text: sitesText(found, {
        title: `${plan.lotfall.name ?? file}: places for a basin, ${formatRain(rainMm, units)} of rain`,
        units,
        frame: local.frame,
        weights,
        asked,
        notes: remarks,
      }),
      json: {
        rain_mm: rainMm,
        soil: sizingSoil(planSoil(plan.lotfall.soil, tests).broad),
        weights,
        // Weights of the user's own have no source.
        weights_source: plan.lotfall.site_weights === undefined ? defaultWeightsSource : null,
        near_ties: ties,
        ...sitesDocument(found, asked, local.frame),
        notes: remarks,
      },
      files: { '.geojson': `${JSON.stringify(sitesCollection(found, local.frame), null, 2)}\n` },
    };
  },
};

function withoutBasins(plan: Plan): Plan {
  return {
    ...plan,
    features: plan.features.filter((feature) => feature.properties.kind !== 'basin'),
  };
}

function cutShort({ ground, routing }: ShapedGround): string[] {
  const own = ground.lots.filter((lot) => lot.own);
  if (!own.some((lot) => contributingShare(routing, lot.cells).cutByEdge)) return [];
  return [
    'More ground than was read may drain to the lot: what a place catches may be more than listed',
  ];
}

import { designBasins } from '../../../lib/basin/design/design-basins';
import {
  isDesigned,
  type BasinDesign,
  type DesignResult,
} from '../../../lib/basin/design/design-result';
import { InputError } from '../../../lib/errors';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { isKind, type Plan } from '../../../lib/plan/schema';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import type { Call, Command } from '../command';
import { designText, seriesTable } from './design-text';
import {
  elevationHelp,
  elevationOptions,
  planOf,
  rainHelp,
  rainNotes,
  rainOf,
  rainOption,
  withRain,
} from '../reading/inputs';
import { sentences } from '../notes';
import { hasNoGround, onPaperAnswer, paperHelp } from '../paper/paper';
import { recordHelp, recordOf, recordOptions } from '../reading/rain-record';
import { survey } from '../reading/survey';
import { usage } from '../usage';

/** `lotfall design`: the basins of a plan, worked out. */
export const design: Command = {
  name: 'design',
  summary: 'the basin: storage, filling and draining, overflow, sizing, quantities and cost',
  help: `Usage: lotfall design <plan.geojson> [--elevation <file.tif|https://…>] [--rain 25mm]

${elevationHelp}
${rainHelp}
  --capture <share>                     share of the storm to size for, for example 90% or 0.9 (when not given 90%)
  --notch-rain <depth>                  rarer storm that every notch is to pass; when not given each basin's own, else
                                        the rarest in the plan's depth table, else the plan's storm
${recordHelp}
  --series                              with --json: also what happens over time
  --json                                the whole answer as JSON, each basin once under 'basins'
  --out <file>                          .csv for what happens over time in the first basin; .json or .txt

Works out the basins that the plan has; 'lotfall sites' finds places for one. Rain that falls on ground and roofs comes
to the basin late by its time on the way; the basin fills, overflows and drains until it is empty.

${paperHelp}`,
  options: {
    ...elevationOptions,
    ...rainOption,
    capture: { type: 'string' },
    'notch-rain': { type: 'string' },
    series: { type: 'boolean' },
    ...recordOptions,
  },
  forms: ['.csv'],
  async run(call) {
    const wantedShare = captureOf(call);
    const recorded = await recordOf(call);
    const { plan, file, notes } = await planOf(call);
    if (hasNoGround(call, plan)) return onPaperAnswer(call, { plan, file, notes });
    if (!plan.features.some(({ properties }) => properties.kind === 'basin')) {
      throw usage(
        `${file} has no basin`,
        "draw one, or take over a place that 'lotfall sites' finds",
      );
    }
    const {
      elevation,
      plan: local,
      shape,
    } = await survey(call, withNotchRain(call, withRain(plan, call.option('rain'))), file);
    const { lotfall } = local.plan;
    const storm = stormOnGround(shape, local, eventDepthMm(lotfall));
    const result = inFile(file, () =>
      designBasins({
        elevation: elevation.grid,
        plan: local,
        shape,
        storm,
        ...(wantedShare === null ? {} : { wantedShare }),
        ...(recorded === null ? {} : { record: recorded.record, longRun: recorded.options }),
        onProgress: call.onProgress,
      }),
    );
    const remarks = sentences(
      notes,
      elevation.notes.map((note) => note.text),
      rainNotes(local.plan),
      result.notes,
      recorded?.notes ?? [],
      storm.surfaces.notes,
      storm.roofs.notes,
      storm.notes,
    );
    const first = result.basins.find(isDesigned);
    return {
      faults: result.basins.flatMap((each) =>
        isDesigned(each) ? [] : [`${file}, ${each.name}: ${each.not_dug}`],
      ),
      text: designText(
        { ...result, notes: remarks },
        {
          title: lotfall.name ?? file,
          units: lotfall.units ?? 'metric',
          plan: local,
        },
      ),
      json: documentOf({ ...result, notes: remarks }, call.flag('series')),
      ...(first === undefined ? {} : { files: { '.csv': seriesTable(first.series) } }),
    };
  },
};

/** What a task gives; where the plan cannot be used for it, the sentence names the plan's file first. */
function inFile<T>(file: string, task: () => T): T {
  try {
    return task();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const problem = error.toProblem();
    throw new InputError({ ...problem, where: `${file}, ${problem.where}` }, { cause: error });
  }
}

/** The share to size for, null when the call names none. */
function captureOf(call: Call): number | null {
  const named = call.option('capture');
  if (named === undefined) return null;
  const [, figure, percent] = /^(\d+(?:\.\d+)?|\.\d+)\s*(%?)$/.exec(named.trim()) ?? [];
  const share = Number(figure) / (percent === '%' || Number(figure) > 1 ? 100 : 1);
  if (figure !== undefined && share > 0 && share <= 1) return share;
  throw usage(`'${named}' is no share of a storm`, 'write it like 90% or 0.9');
}

/** The plan with the storm that the call wants every notch to pass, when it names one. */
function withNotchRain(call: Call, plan: Plan): Plan {
  const named = call.option('notch-rain');
  if (named === undefined) return plan;
  const rainMm = rainOf('notch-rain', named);
  return {
    ...plan,
    features: plan.features.map((feature) =>
      isKind(feature, 'basin')
        ? { ...feature, properties: { ...feature.properties, notch_rain_mm: rainMm } }
        : feature,
    ),
  };
}

/** The document: each basin once, in the plan's order. */
function documentOf(result: DesignResult, withSeries: boolean): unknown {
  return {
    basins: result.basins.map((each) => (isDesigned(each) && !withSeries ? without(each) : each)),
    soil: result.soil,
    notes: result.notes,
  };
}

/** A basin less what happens over time. */
function without(design: BasinDesign): Omit<BasinDesign, 'series'> {
  const rest: Omit<BasinDesign, 'series'> & { series?: unknown } = { ...design };
  delete rest.series;
  return rest;
}

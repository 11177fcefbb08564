import { designBasins } from '../../../lib/basin/design/design-basins';
import type { DesignResult } from '../../../lib/basin/design/design-result';
import { builtOf, uptakeOf } from '../../../lib/basin/design/for-drainage';
import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import type { Grid } from '../../../lib/elevation/grid';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { eventDuration } from '../../../lib/storm/event-duration';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import {
  measureNext,
  nextReadings,
  type NextReading,
} from '../../../lib/drainage/answer/measure-next';
import { observedWater, type ObservedRow } from '../../../lib/drainage/answer/observed-water';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { drainageFeatures } from '../../../lib/drainage/answer/drainage-features';
import { usualKind } from '../../../lib/drainage/height-error/error-defaults';
import { flowLines } from '../../../lib/drainage/answer/flow-lines';
import { pipeLines } from '../../../lib/drainage/answer/pipe-lines';
import { resultRasters } from '../../../lib/drainage/answer/result-rasters';
import { certaintyRasters } from '../../../lib/drainage/certainty/certainty-rasters';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import {
  withCertainty,
  type CertainDrainage,
} from '../../../lib/drainage/certainty/with-certainty';
import { levelReadings } from '../../../lib/levels/readings';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { planIn } from '../../../lib/plan/plan-state';
import type { Plan } from '../../../lib/plan/schema';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { formatLength } from '../../../lib/units/format';
import { certaintyAsked, certaintyHelp, certaintyOf, certaintyOptions } from './certainty';
import type { Call, Command, CommandOutput } from '../command';
import { compared, statesAsked } from './compared';
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
import { measureNextText } from './measure-next-text';
import { observedText } from './observed-text';
import { survey } from '../reading/survey';
import { expectFolder } from '../reading/folder';
import { writeRasters } from '../writing/write-rasters';
import { drainageText, drainedName } from './drainage-text';

/** Flow lines are written from where this much open ground drains through, m2. A choice. */
const lineFromM2 = 30;

/** `lotfall drainage`: low spots, standing water, what drains where, and the water ledger of the own lot. */
export const drainage: Command = {
  name: 'drainage',
  summary: 'low spots, standing water, contributing areas and the water ledger',
  help: `Usage: lotfall drainage <plan.geojson> --elevation <file.tif|https://…> [--rain 25mm]

${elevationHelp}
${rainHelp}
${certaintyHelp}
  --before <state> --after <state>      the answer for two states of the plan, existing or proposed, and what differs:
                                        features say their state ('existing', 'proposed' or 'gone')
  --write-rasters <folder>              ground, filled surface, standing water, contributing area as GeoTIFFs; with
                                        --certainty also how likely water stands and drains to a basin
  --json                                the whole answer as JSON
  --out <file>                          .geojson for low spots, standing water, contributing areas, flow lines and
                                        pipes as features; .json or .txt

The state when the storm is over: basins have taken in what their filling over time says, other standing water has
not soaked away yet. Ground is read outwards until all of it that drains to the lot is there, the data end, or as much
is read as one lot is worth; figures that this cuts short are marked 'at least'.`,
  options: {
    ...elevationOptions,
    ...rainOption,
    ...certaintyOptions,
    'write-rasters': { type: 'string' },
    before: { type: 'string' },
    after: { type: 'string' },
  },
  forms: ['.geojson'],
  async run(call) {
    const folder = call.option('write-rasters');
    if (folder !== undefined) await expectFolder(folder);
    const states = statesAsked(call);
    const { plan, file, notes } = await planOf(call);
    if (states === null) return answered(call, plan, file, notes);
    const [before, after] = states.map((state) => planIn(plan, state));
    const was = await answered(call, before, file, notes);
    const is = await answered(call, after, file, notes);
    return compared({ states, plan, title: plan.lotfall.name ?? file }, was.json, is.json);
  },
};

/** What was seen and what to read next, where there is any. */
interface Observed {
  readonly observed?: readonly ObservedRow[];
  /** Where one more level would settle most, on ground made from levels. */
  readonly measure_next?: readonly NextReading[];
}

/** The answer for a plan as it is given. */
async function answered(
  call: Call,
  plan: Plan,
  file: string,
  notes: readonly string[],
): Promise<CommandOutput & { readonly json: DrainageResult & Observed }> {
  const asked = certaintyAsked(call);
  const folder = call.option('write-rasters');
  const {
    elevation,
    plan: local,
    shape: surveyed,
  } = await survey(call, withRain(plan, call.option('rain')), file);
  const { lotfall } = local.plan;
  const designed = designOf(surveyed, local, elevation.grid);
  const { hours } = eventDuration(lotfall);
  const shape = withUptake(surveyed, uptakeOf(designed), hours);
  const storm = stormOnGround(shape, local, eventDepthMm(lotfall));
  const rmseM = asked?.rmsesM.at(0) ?? lotfall.elevation?.rmse_m;
  const found = drainLot(shape, storm, local, {
    crs: elevation.systemName,
    ...(rmseM === undefined ? {} : { rmseM }),
    built: builtOf(designed),
    order: true,
  });
  const rainMm = storm.rainMm;
  const sure =
    asked === null
      ? null
      : await certaintyOf(call, { elevation: elevation.grid, plan: local, rainMm }, asked);
  const drained: DrainageResult | CertainDrainage =
    sure === null
      ? found
      : {
          ...withCertainty(found, sure.result),
          ...(sure.sensitivity === null ? {} : { sensitivity: sure.sensitivity }),
        };
  const result: DrainageResult | CertainDrainage = {
    ...drained,
    notes: sentences(
      notes,
      elevation.notes.map((note) => note.text),
      drained.notes,
      rainNotes(local.plan),
      rmseM === undefined ? errorNotes(local, elevation.grid.cellM) : [],
      cutShort(found, local),
    ),
  };
  const written =
    folder === undefined
      ? []
      : await writeRasters(
          [
            ...resultRasters(shape, storm),
            ...(sure === null ? [] : certaintyRasters(shape.ground.grid, sure.tallies)),
          ],
          elevation,
          folder,
        );
  const text = [
    drainageText(result, local, lotfall.name ?? file, topOf(elevation)),
    ...written.map((path) => `Wrote ${path}`),
  ];
  const lines = {
    flow: flowLines(shape, storm, local.frame, lineFromM2),
    pipes: pipeLines(shape, storm, local),
  };
  const features = drainageFeatures(result, lines);
  // Last, as its storms are poured on the same ground.
  const observed = observedWater(shape, local, rainMm);
  const units = lotfall.units ?? 'metric';
  const next =
    lotfall.elevation?.of_levels === true
      ? measureNext(levelReadings(plan, file), local, elevation.grid, found.low_spots)
      : nextReadings(shape, local, found.low_spots);
  return {
    text: [...text, ...observedText(observed, units), ...measureNextText(next, units)].join('\n'),
    json: {
      ...result,
      ...(observed.length === 0 ? {} : { observed }),
      ...(next.length === 0 ? {} : { measure_next: next }),
    },
    files: { '.geojson': `${JSON.stringify(features, null, 1)}\n` },
  };
}

/** The plan's basins: the static storm takes from them what they hold as built and take in while it rains. */
function designOf(
  shape: ShapedGround,
  plan: LocalPlan,
  elevation: Grid,
): Pick<DesignResult, 'basins'> {
  if (plan.of.basin.length === 0) return { basins: [] };
  const storm = stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall));
  return designBasins({ elevation, plan, shape, storm });
}

/** Says so when the error of the elevation is not stated. */
function errorNotes({ plan: { lotfall } }: LocalPlan, cellM: number): string[] {
  const { rmseM, name } = usualKind(cellM);
  const error = formatLength(rmseM, lotfall.units ?? 'metric');
  return [
    `The plan does not give the vertical error (RMSE) of the elevation: ${error} is taken, as for ${name}`,
  ];
}

function cutShort(result: DrainageResult, plan: LocalPlan): string[] {
  const cut = result.contributing.filter((row) => row.cut_by_edge);
  if (cut.length === 0) return [];
  const places = cut.map((row) => drainedName(row.feature, result, plan)).join(', ');
  return [`More ground than was read may drain to ${places}: its figures are 'at least'`];
}

/** What is to be known of the elevation before any figure. */
function topOf({ notes }: Elevation): string[] {
  return sentences(notes.filter(({ atTop }) => atTop).map(({ text }) => text));
}

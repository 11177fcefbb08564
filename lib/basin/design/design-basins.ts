import { patchesOf, toMultiPolygon } from '../../drainage/answer/contributing-area';
import { listedLowSpots } from '../../drainage/answer/listed-low-spots';
import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import type { Settings } from '../../plan/schema';
import { designInfiltration } from '../../soil/design-infiltration';
import { greenAmptSoil } from '../../soil/green-ampt-soil';
import { waterEvent } from '../../storm/water-event';
import { mmPerHOfMPerS } from '../../units/units';
import { eventInflow } from '../filling/inflow';
import { inflowByFacet } from '../filling/inflow-between';
import { fillInSeries } from '../filling/in-series';
import { basinAsBuilt, type BasinAsBuilt } from '../form/as-built';
import { notchFlows, type NotchFlow } from '../overflow/notch-flow';
import { stormAt } from '../overflow/notch-storm';
import type { CrossedLowSpot } from '../overflow/overflow-verdict';
import { basinDocument } from './basin-document';
import type { BasinDesign, BasinNotDug, DesignResult } from './design-result';
import {
  horizonH,
  withWater,
  workOut,
  type BasinWithWater,
  type DesignQuestion,
} from './worked-basin';
import { featureName } from '../../plan/feature-name';

/**
 * Works out every basin of a plan: form, what drains to it, filling and draining over the event, overflow, sizing,
 * quantities. The page and the command line both ask here.
 *
 * @returns `basins` empty when the plan has none. Plain data, ready for JSON.
 * @throws {InputError} what the plan's storm throws; `basins-in-a-circle`.
 * Cost: about a quarter of a second for a basin on a grid of 300 x 300 cells, most of it for shaping its ground.
 */
export function designBasins(question: DesignQuestion): DesignResult {
  const { plan, elevation, shape, onProgress, onBuilt } = question;
  const { lotfall } = plan.plan;
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const infiltration = designInfiltration(lotfall.soil, tests);
  const floor = greenAmptSoil(infiltration, lotfall.soil);
  const event = waterEvent(lotfall);

  const notDug = new Map<string, BasinNotDug>();
  const built: BasinAsBuilt[] = [];
  plan.of.basin.forEach((feature, i) => {
    onProgress?.(i / plan.of.basin.length, `Working out ${nameOf(feature)}`);
    const made = basinAsBuilt(elevation, plan, feature.id);
    if (!('notDug' in made)) onBuilt?.(made);
    // in fine cells it may be dug, and yet be smaller than one of the ground that water is followed over
    const why = 'notDug' in made ? made.notDug : notCut(shape, feature.id);
    if (why !== null) {
      notDug.set(feature.id, { id: feature.id, name: nameOf(feature), not_dug: why });
    } else if (!('notDug' in made)) built.push(made);
  });
  const parts = built.flatMap((each) => withWater(question, each, floor?.soil ?? null, lotfall));
  const filled = fillInSeries(
    parts.map(({ linked }) => linked),
    { horizonH, halved: true },
  );

  const flows = notchFlows(
    parts.map(({ linked, atNotch }) => ({ ...linked, inflow: atNotch.inflow })),
  );
  const inStorm = notchFlowsByDepth(parts, lotfall);
  const common = {
    infiltration,
    kind: event.kind,
    spots: parts.length === 0 ? [] : crossedLowSpots(shape, plan),
  };
  const byFacet = inflowByFacet(
    shape,
    question.storm,
    plan,
    parts.map(({ form }) => form),
  );
  const designs = new Map<string, BasinDesign | BasinNotDug>(notDug);
  parts.forEach((part, i) => {
    const met = { flow: flows[i], inStorm: (rainMm: number) => inStorm(rainMm)[i] };
    const worked = workOut(question, part, filled[i], met, common, byFacet[i]);
    designs.set(worked.feature.id, basinDocument(worked, lotfall.prices));
  });
  return {
    basins: plan.of.basin.flatMap(({ id }) => designs.get(id) ?? []),
    soil: {
      rate_mm_per_h:
        infiltration.rateMPerS === null ? null : infiltration.rateMPerS * mmPerHOfMPerS,
      from: infiltration.from,
      factor: infiltration.factor,
      suction_m: floor?.soil.suctionM ?? null,
      deficit: floor?.soil.deficit ?? null,
      source: infiltration.source,
      notes: [...infiltration.notes, ...(floor?.notes ?? [])],
    },
    notes: event.notes,
  };
}

/** Why a basin is not cut into the ground; `null` where it is. */
function notCut({ ground }: ShapedGround, basinId: string): string | null {
  if (ground.basins.some(({ id }) => id === basinId)) return null;
  const edit = ground.edits.find(({ id, kind }) => id === basinId && kind === 'basin');
  return edit?.notes.at(0) ?? 'Not dug: it is not in the ground.';
}

/** What comes to the notches and leaves by them in a storm of any depth, spread as the plan's own; each depth once. */
function notchFlowsByDepth(
  parts: readonly BasinWithWater[],
  lotfall: Settings,
): (rainMm: number) => NotchFlow[] {
  const known = new Map<number, NotchFlow[]>();
  return (rainMm) => {
    let flows = known.get(rainMm);
    if (flows === undefined) {
      const event = waterEvent(stormAt(lotfall, rainMm));
      flows = notchFlows(
        parts.map(({ linked, catchment }) => ({
          ...linked,
          inflow: eventInflow(catchment, event),
        })),
      );
      known.set(rainMm, flows);
    }
    return flows;
  };
}

/** The low spots of the ground that are worth listing, with their outlines. */
function crossedLowSpots(shape: ShapedGround, plan: LocalPlan): CrossedLowSpot[] {
  const { grid } = shape.ground;
  const mask = new Uint8Array(grid.z.length);
  return listedLowSpots(shape.ground, shape.terrain).map(({ key, cells }) => {
    for (const cell of cells) mask[cell] = 1;
    const outline = toMultiPolygon(patchesOf(grid, mask), plan.frame);
    for (const cell of cells) mask[cell] = 0;
    return { id: key, outline };
  });
}

function nameOf({ feature }: LocalFeature<'basin'>): string {
  return featureName(feature);
}

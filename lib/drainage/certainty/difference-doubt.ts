import type { Grid } from '../../elevation/grid';
import type { LocalPlan } from '../../plan/local-plan';
import { ledgers } from '../answer/ledger';
import { lotExchange } from '../answer/lot-exchange';
import { figureKey, stateFigures, type Answered } from '../answer/two-states';
import { waterAtBuilding } from '../answer/water-at-building';
import { addError, errorLiftM, shakenGrid, type ErrorModel } from '../height-error/error-field';
import { partOf, type Steps } from '../steps';
import { eventDuration } from '../../storm/event-duration';
import { withUptake } from '../storm/basin-uptake';
import { shapeSteps } from '../storm/shaped-ground';
import { stormSteps } from '../storm/storm-on-ground';
import { Workspace } from '../terrain/workspace';

/** One state of a plan on its ground. */
export interface StateOnGround {
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  /** What each basin, by id, takes in while it rains, m3; from its design. */
  readonly uptakeM3: ReadonlyMap<string, number>;
}

export interface DifferenceStudy {
  readonly before: StateOnGround;
  readonly after: StateOnGround;
  readonly rainMm: number;
  readonly errors: ErrorModel;
  readonly seed: number;
  /** How many equally likely surfaces are tried. */
  readonly surfaces: number;
}

/** Between what the change of one figure lies in nine of ten surfaces, in its own unit. */
export interface DifferenceDoubt {
  readonly lowest: number;
  readonly highest: number;
}

const stage = 'Trying both states on equally likely surfaces';
/** Share of the surfaces that is left out at either end. */
const tailShare = 0.05;

/**
 * How far the error of the heights moves each difference between two states: both are built on the same equally likely
 * surfaces, so that an error that is in both falls out of the difference.
 *
 * Where the two have grounds of their own (levels read twice), their errors are drawn apart, and the doubt is the larger
 * for it. Basins take in on every surface what they do on the ground as it was read.
 *
 * @returns by `figureKey`. @throws {Cancelled}
 * Cost: two runs of ground, storm and all ledgers for each surface.
 */
export function* differenceDoubtSteps(
  study: DifferenceStudy,
): Steps<ReadonlyMap<string, DifferenceDoubt>> {
  const { before, after, surfaces } = study;
  const workspace = new Workspace();
  const changes = new Map<string, number[]>();
  // The same number gives the same error only on the same cells.
  const apart = before.elevation === after.elevation ? 0 : surfaces;
  for (let index = 0; index < surfaces; index++) {
    const from = index / surfaces;
    const middle = (index + 0.5) / surfaces;
    const was = yield* partOf(answerSteps(study, before, index, workspace), from, middle);
    const is = yield* partOf(
      answerSteps(study, after, index + apart, workspace),
      middle,
      (index + 1) / surfaces,
    );
    for (const figure of stateFigures(was, is)) {
      const key = figureKey(figure);
      const list = changes.get(key) ?? [];
      changes.set(key, list);
      list.push(figure.after - figure.before);
    }
  }
  return new Map([...changes].map(([key, list]) => [key, rangeOf(list, surfaces)]));
}

/** The answer for one state on one surface. */
function* answerSteps(
  { rainMm, errors, seed }: DifferenceStudy,
  { elevation, plan, uptakeM3 }: StateOnGround,
  index: number,
  workspace: Workspace,
): Steps<Answered> {
  yield { fraction: 0, stage };
  const liftM = errorLiftM(errors);
  const z = workspace.float32('difference surface', elevation.z.length);
  addError(elevation, errors, { seed, index }, z, workspace, liftM);
  const surface = shakenGrid(elevation, errors, z, liftM);
  const bare = yield* quiet(shapeSteps(surface, plan, workspace), 0.2);
  const shape = withUptake(bare, uptakeM3, eventDuration(plan.plan.lotfall).hours);
  const storm = yield* quiet(stormSteps(shape, plan, rainMm), 0.4);
  const { lots } = shape.ground;
  yield { fraction: 0.7, stage };
  const books = ledgers(shape, storm, plan);
  const own = lots.findIndex((lot) => lot.own);
  return {
    ledger: own === -1 ? null : books[own],
    exchange: lotExchange(books),
    buildings: plan.of.building.map((building) =>
      waterAtBuilding(shape.ground, building, storm.depthM, plan.frame),
    ),
  };
}

/** Steps that are told as one. */
function* quiet<T>(steps: Steps<T>, fraction: number): Steps<T> {
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
    yield { fraction, stage };
  }
}

/** Surfaces on which there was no such figure count as no change. */
function rangeOf(found: readonly number[], surfaces: number): DifferenceDoubt {
  const missing = Array.from({ length: surfaces - found.length }, () => 0);
  const sorted = [...found, ...missing].sort((a, b) => a - b);
  const tail = Math.floor(tailShare * sorted.length);
  return { lowest: sorted[tail], highest: sorted[sorted.length - 1 - tail] };
}

import { basinAsBuilt, type BasinAsBuilt } from '../basin/form/as-built';
import type { Grid } from '../elevation/grid';
import { groundBeforeBasin } from '../ground/ground';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import type { PlanFeature } from '../plan/schema';

/** Basins as built that are kept for the next variant. */
const mostKept = 24;

interface Kept {
  readonly basin: PlanFeature;
  readonly built: BasinAsBuilt;
  /** All that moves earth before it, as its ground was last made, and the ground that it is dug in. */
  made: readonly PlanFeature[];
  readonly ground: Grid;
}

/**
 * The basins of variants of one plan as built: each once for all variants that leave the ground around it as it is,
 * for that is all that it hangs on (`finishedBasin`).
 */
export class KeptBasins {
  readonly #elevation: Grid;
  readonly #kept: Kept[] = [];

  /** @param elevation - heights as read. */
  constructor(elevation: Grid) {
    this.#elevation = elevation;
  }

  /** Those that can be dug. */
  of(plan: LocalPlan): BasinAsBuilt[] {
    const earth = [plan.of['spot-height'], plan.of.regrade, plan.of.swale, plan.of.berm].flat();
    return plan.of.basin.flatMap((basin, i) => {
      const made = [...earth, ...plan.of.basin.slice(0, i)].map(({ feature }) => feature);
      return this.#builtOf(plan, basin, made) ?? [];
    });
  }

  #builtOf(
    plan: LocalPlan,
    { id, feature }: LocalFeature<'basin'>,
    made: readonly PlanFeature[],
  ): BasinAsBuilt | null {
    const own = this.#kept.filter((each) => each.basin === feature);
    const same = own.find((each) => sameList(each.made, made));
    if (same !== undefined) return same.built;
    const ground = groundBeforeBasin(this.#elevation, plan, id);
    const alike = own.find((each) => isSameAround(each, ground));
    if (alike !== undefined) {
      alike.made = made;
      return alike.built;
    }
    const built = basinAsBuilt(this.#elevation, plan, id);
    if ('notDug' in built) return null;
    this.#kept.push({ basin: feature, built, made, ground });
    if (this.#kept.length > mostKept) this.#kept.shift();
    return built;
  }
}

/** Whether the ground around a basin, as far as it is built into it, is that in which it was worked out, to the bit. */
function isSameAround({ built, ground: was }: Kept, ground: Grid): boolean {
  const { westM, northM, width, height, cellM } = built.finished.before;
  // heights are read between the middles of cells: a cell more on either side
  const first = Math.max(0, Math.floor((westM - was.westM) / was.cellM) - 1);
  const last = Math.min(
    was.width - 1,
    Math.ceil((westM + width * cellM - was.westM) / was.cellM) + 1,
  );
  const top = Math.max(0, Math.floor((was.northM - northM) / was.cellM) - 1);
  const bottom = Math.min(
    was.height - 1,
    Math.ceil((was.northM - (northM - height * cellM)) / was.cellM) + 1,
  );
  for (let row = top; row <= bottom; row++) {
    for (let at = row * was.width + first; at <= row * was.width + last; at++) {
      if (!Object.is(was.z[at], ground.z[at])) return false;
    }
  }
  return true;
}

function sameList(one: readonly PlanFeature[], other: readonly PlanFeature[]): boolean {
  return one.length === other.length && one.every((each, i) => each === other[i]);
}

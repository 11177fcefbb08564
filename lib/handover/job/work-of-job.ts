import { isDesigned, type DesignResult } from '../../basin/design/design-result';
import type { UnitSystem } from '../../units/units';
import { workAmounts, workTime, type WorkTime } from '../building/digging-time';
import { workSteps, type WorkStep } from '../building/steps';
import { needsOf, together, type Garden } from '../orders/needs';

/** How far soil is wheeled where nobody says, metres. Our choice, no source. */
export const usualWheelM = 15;
/** Who dig where nobody says. Our choice, no source. */
export const usualPeople = 2;

/** How a job is done and how long it takes. Field names are those of the JSON output. */
export interface WorkDocument {
  readonly time: WorkTime;
  readonly basins: readonly {
    readonly id: string;
    readonly name: string;
    readonly steps: readonly WorkStep[];
  }[];
}

/**
 * @param gardens - one at least.
 * @param crew - how many people, and how far soil is wheeled.
 */
export function workOfJob(
  gardens: readonly Garden[],
  design: DesignResult,
  units: UnitSystem,
  { people, wheelM }: { readonly people: number; readonly wheelM: number },
): WorkDocument {
  const amounts = workAmounts(together(gardens.map((garden) => needsOf(garden))));
  return {
    time: workTime(amounts, gardens[0].built.earth.bulking, { people, wheelM }),
    basins: gardens.flatMap((garden) => {
      const designed = design.basins.filter(isDesigned).find(({ id }) => id === garden.built.id);
      if (designed === undefined) return [];
      const { id, name } = designed;
      return [{ id, name, steps: workSteps(garden, designed, units) }];
    }),
  };
}

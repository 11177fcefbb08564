import { designInfiltration } from '../../soil/design-infiltration';
import { greenAmptSoil } from '../../soil/green-ampt-soil';
import { fillInSeries } from '../filling/in-series';
import type { BasinAsBuilt } from '../form/as-built';
import { takenInM3 } from './filling-document';
import { onlyBasin, withWater, type DesignQuestion } from './worked-basin';

/** What is still on its way when the event ends comes within this, hours; how long it drains after that says nothing here. */
const afterH = 1;

/**
 * What each basin, by id, takes into layers and soil until the last water has come, m3: to the bit what `designBasins`
 * finds (`uptakeOf`), without all else that a design says.
 *
 * @param built - the plan's basins as built, see `basinAsBuilt`; one that is not in the ground is left out.
 * @throws {InputError} as `designBasins`.
 * Cost: a tenth of that of the design.
 */
export function stormUptake(
  question: DesignQuestion,
  built: readonly BasinAsBuilt[],
): ReadonlyMap<string, number> {
  const { lotfall } = question.plan.plan;
  const tests = question.plan.of['soil-test'].map(({ feature }) => feature);
  const floor = greenAmptSoil(designInfiltration(lotfall.soil, tests), lotfall.soil);
  const subsoil = floor?.soil ?? null;
  const linked =
    built.length === 1 && question.shape.ground.basins.length === 1
      ? onlyBasin(question, built[0], subsoil, lotfall)
      : built.flatMap((each) =>
          withWater(question, each, subsoil, lotfall).map(({ linked }) => linked),
        );
  const filled = fillInSeries(linked, { horizonH: afterH });
  return new Map(
    filled.flatMap((each): [string, number][] => {
      const own = built.find(({ id }) => id === each.id);
      return own === undefined ? [] : [[each.id, takenInM3({ built: own, filled: each })]];
    }),
  );
}

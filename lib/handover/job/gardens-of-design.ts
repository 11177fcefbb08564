import { isDesigned, type DesignResult } from '../../basin/design/design-result';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import type { LocalPlan } from '../../plan/local-plan';
import { gardenOf, type Garden } from '../orders/needs';

/** The gardens of a design as they are to be dug; those that cannot be are left out. */
export function gardensOfDesign(
  { of }: LocalPlan,
  { basins }: DesignResult,
  built: ReadonlyMap<string, BasinAsBuilt>,
): Garden[] {
  return basins.flatMap((each) => {
    const form = built.get(each.id);
    if (!isDesigned(each) || form === undefined) return [];
    const feature = of.basin.find(({ id }) => id === each.id)?.feature;
    return [gardenOf(form, each, feature?.properties.underdrain !== undefined)];
  });
}

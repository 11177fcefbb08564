import type { LngLat } from '../../../lib/frame/frame';
import type { Plan } from '../../../lib/plan/schema';
import { heaviestWeight, isScorePart, scorePartNames } from '../../../lib/siting/sizing/score';
import type { Call } from '../command';
import { usage } from '../usage';

export const sitesOptions = {
  weight: { type: 'string', multiple: true },
  basins: { type: 'string' },
  at: { type: 'string' },
} as const;

export const sitesHelp = `  --weight <part>=<0-${heaviestWeight}>                how much a part of the score counts, may be given again; else the plan's
  --basins <1-4>                        how many basins may share the water
  --at <longitude,latitude>             asks why a basin can lie at this place, or why not and where the nearest would`;

/** Most basins that may be asked for together. */
const mostBasins = 4;

/** The plan with the weights that the call asks for in place of its own. */
export function withWeights(plan: Plan, call: Call): Plan {
  const given = call.all('weight');
  if (given.length === 0) return plan;
  const weights: Record<string, number> = { ...plan.lotfall.site_weights };
  for (const each of given) {
    const [, name = '', figure = ''] = /^([^=]*)=(.*)$/.exec(each) ?? [];
    if (!isScorePart(name)) {
      throw usage(
        `--weight '${each}' names no part of the score`,
        `write it as caught=2; the parts are ${scorePartNames.join(', ')}`,
      );
    }
    const weight = figure.trim() === '' ? Number.NaN : Number(figure);
    if (!(weight >= 0 && weight <= heaviestWeight)) {
      throw usage(
        `--weight '${each}' gives no weight`,
        `write a number from 0 to ${heaviestWeight}, as caught=2`,
      );
    }
    weights[name] = weight;
  }
  return { ...plan, lotfall: { ...plan.lotfall, site_weights: weights } };
}

/** How many basins the call asks for; 1 when it does not say. */
export function basinsOf(call: Call): number {
  const named = call.option('basins');
  if (named === undefined) return 1;
  const count = Number(named);
  if (named.trim() !== '' && Number.isInteger(count) && count >= 1 && count <= mostBasins) {
    return count;
  }
  throw usage(
    `--basins '${named}' is no such number`,
    `give a whole number from 1 to ${mostBasins}`,
  );
}

/** The place that the call asks about; `null` when it asks about none. */
export function askedPlace(call: Call): LngLat | null {
  const named = call.option('at');
  if (named === undefined) return null;
  const parts = named.split(',').map((part) => (part.trim() === '' ? Number.NaN : Number(part)));
  const [lng, lat] = parts;
  if (parts.length === 2 && Math.abs(lng) <= 180 && Math.abs(lat) <= 90) return [lng, lat];
  throw usage(
    `--at '${named}' is no place`,
    'write longitude and latitude in degrees, as -87.1075,42.51',
  );
}

import type { BasinToFill } from './basin-water';
import { fillAndDrain } from './fill-and-drain';

const nothing = new Float64Array(0);

/**
 * Time in which a basin that is full to its sill, its layers full as well, empties its surface with no more rain, seconds;
 * `null` when it does not in the time looked at. The soil below takes its steady rate: it has been under water for long.
 */
export function drainFromFullS(
  basin: BasinToFill,
  options: { readonly horizonH?: number; readonly strips?: number } = {},
): number | null {
  const { subsoil } = basin;
  const steady = subsoil === null ? null : { ...subsoil, suctionM: 0, deficit: 0 };
  const inflow = { stepS: 60, runOnM3: nothing, rainMm: nothing };
  return fillAndDrain({ ...basin, subsoil: steady }, inflow, { ...options, full: true }).summary
    .drainDownS;
}

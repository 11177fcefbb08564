import {
  elevationIdentity,
  type ElevationIdentity,
} from '../../../lib/elevation/file/elevation-identity';
import { warning, type Note } from '../../../lib/elevation/note';
import type { ElevationFile } from '../../../lib/elevation/file/open-elevation';
import { drawnOn, elevationWords, onElevation } from '../../../lib/plan/named-elevation';
import type { Plan } from '../../../lib/plan/schema';

/** Files that have been read through for their checksum: many plans may be judged on one. */
const identities = new WeakMap<ElevationFile, Promise<ElevationIdentity>>();

/**
 * A plan as judged on the elevation that the call names, and what is to be said where it was drawn on another: what
 * it says of that one's error and unit then does not count.
 */
export async function planOn(
  plan: Plan,
  elevation: ElevationFile,
): Promise<{ plan: Plan; notes: readonly Note[] }> {
  const { name } = elevation.raster;
  const file = await identityOf(elevation, plan.lotfall.elevation?.crc32 !== undefined);
  const drawn = drawnOn(plan, file);
  if (drawn === 'same' || drawn === 'unnamed') return { plan, notes: [] };
  const was = elevationWords(plan) ?? 'another file';
  return drawn === 'unsure'
    ? {
        plan,
        notes: [warning('elevation-renamed', `The plan was drawn on ${was}, not on ${name}`)],
      }
    : {
        plan: onElevation(plan, file),
        notes: [
          warning(
            'elevation-other',
            `The plan was drawn on ${was}; ${name} is another file, so what the plan says of its heights’ error and unit does not count`,
          ),
        ],
      };
}

/** Which file it is; of one at hand its checksum too, where `wholly` asks for that, once however many plans are read. */
export function identityOf(elevation: ElevationFile, wholly: boolean): Promise<ElevationIdentity> {
  const isAtHand = !/^https?:\/\//i.test(elevation.raster.name);
  if (!wholly || !isAtHand) return elevationIdentity(elevation, false);
  const known = identities.get(elevation);
  if (known !== undefined) return known;
  const read = elevationIdentity(elevation, true);
  identities.set(elevation, read);
  return read;
}

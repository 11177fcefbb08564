import { Crc32 } from '../../../../lib/elevation/bytes/crc32';
import { madeFrom } from '../../../../lib/levels/made-from';
import { schemaVersion, type Plan } from '../../../../lib/plan/schema';
import { writePlan } from '../../../../lib/plan/write-plan';

/**
 * What ground of a plan's levels is called: by how many there are and a checksum of all that it is made from, so that it is
 * another where one of them is.
 */
export function levelGroundName(plan: Plan): string {
  const features = madeFrom(plan);
  // As they stand in a file, so that a plan that was saved and opened again has the same ground.
  const made = writePlan({
    type: 'FeatureCollection',
    lotfall: { version: schemaVersion },
    features,
  });
  const levels = features.filter(
    ({ properties: { kind } }) => kind === 'spot-height' || kind === 'puddle-edge',
  );
  const sum = new Crc32().add(new TextEncoder().encode(made)).digits;
  return `ground of ${levels.length} levels ${sum.slice(0, 4)}.tif`;
}

import { expectOf } from '../../errors';
import type { LngLat } from '../../frame/frame';
import { featuresOf, type Plan } from '../../plan/schema';

/** Farther from the own lot than this nobody means to ask about a place for its basin, metres. Our choice, no source. */
const farOffM = 500;
/** Good enough to tell a wrong place from one near by: of a degree of latitude, on a sphere. */
const mPerDeg = 111_195;

/**
 * Makes sure that a place asked about lies near the own lot, before it is sought on the lot's plane, where the far side
 * of the earth has no place. A plan without an own lot is let through: another sentence is due there.
 *
 * @throws {InputError} `place-far-off`.
 */
export function expectNearLot(plan: Plan, [lng, lat]: LngLat): void {
  const corners = featuresOf(plan, 'lot').flatMap(({ properties, geometry }) =>
    properties.own ? geometry.coordinates[0] : [],
  );
  if (corners.length === 0) return;
  const lngs = corners.map((corner) => corner[0]);
  const lats = corners.map((corner) => corner[1]);
  const beyond = (value: number, values: readonly number[]): number =>
    Math.max(0, Math.min(...values) - value, value - Math.max(...values));
  // the shorter way round
  const eastDeg = beyond(lng, lngs) % 360;
  const east = Math.min(eastDeg, 360 - eastDeg) * Math.cos((lats[0] * Math.PI) / 180);
  const awayM = Math.hypot(east, beyond(lat, lats)) * mPerDeg;
  const away = awayM < 10_000 ? `${Math.round(awayM)} m` : `${Math.round(awayM / 1000)} km`;
  expectOf(awayM <= farOffM, {
    code: 'place-far-off',
    where: 'place asked about',
    problem: `${lng}, ${lat} lies about ${away} from the lot`,
    remedy: 'give longitude and latitude, in that order, of a place on the lot or beside it',
  });
}

import { distance } from '@turf/turf';
import type { DrainageResult, LowSpotRow } from './drainage-result';
import type { Share } from './ledger';

/** One figure that differs between two answers on the same lot. */
export interface Difference {
  readonly about:
    | 'run-on'
    | 'passed-on'
    | 'soaked'
    | 'standing'
    | 'basin'
    | 'sewer'
    | 'low-spot'
    | 'drains-to'
    | 'at-wall';
  /** Id of the lot, low spot, feature or building; null for the own lot as a whole, or for ground on no lot. */
  readonly id: string | null;
  /** The number of the low spot that it is about: as it is now, as it was where there is none any more. */
  readonly lowSpot?: { readonly number: number; readonly gone: boolean };
  readonly unit: 'm3' | 'm2' | 'm';
  readonly before: number;
  readonly after: number;
}

/** Volumes that differ by less than this share of what comes in are taken for the same. Our choice, no source. */
const leastShare = 0.002;
/** Areas and depths that differ by less are taken for the same, areas also by less than a share of theirs. Our choices, no source. */
const leastM2 = 1;
const leastAreaShare = 0.01;
const leastDepthM = 0.005;
/** A low spot whose deepest point moved by no more is the same one, metres. Our choice, no source. */
const sameSpotM = 2;

/**
 * What differs between two answers on the same lot, the largest differences first: so that moving a wall tells
 * which water now goes another way, not only that the totals are others.
 *
 * @returns volumes first (by size), then areas, then depths.
 * Cost: O(rows), and a comparison of the low spots that have no namesake.
 */
export function whatChanged(before: DrainageResult, after: DrainageResult): Difference[] {
  const differences = [
    ...ledgerDifferences(before, after),
    ...standingDifferences(before, after),
    ...areaDifferences(before, after),
    ...wallDifferences(before, after),
  ];
  const rank = { m3: 0, m2: 1, m: 2 } as const;
  return differences.sort(
    (a, b) =>
      rank[a.unit] - rank[b.unit] || Math.abs(b.after - b.before) - Math.abs(a.after - a.before),
  );
}

function ledgerDifferences(
  { ledger: old }: DrainageResult,
  { ledger: now }: DrainageResult,
): Difference[] {
  if (old === null || now === null || old.lot !== now.lot) return [];
  const leastM3 = leastShare * Math.max(comesInM3(old), comesInM3(now));
  const whole = [
    ['soaked', old.soaked_m3, now.soaked_m3],
    ['standing', old.standing_m3, now.standing_m3],
    ['basin', old.basin_m3, now.basin_m3],
    ['sewer', old.sewer_m3, now.sewer_m3],
  ] as const;
  const rows: Difference[] = [
    ...whole.map(([about, was, is]) => volume(about, null, was, is)),
    ...shareDifferences('run-on', old.run_on_from, now.run_on_from),
    ...shareDifferences('passed-on', old.passed_on_to, now.passed_on_to),
  ];
  return rows.filter((row) => Math.abs(row.after - row.before) > leastM3);
}

function comesInM3(ledger: NonNullable<DrainageResult['ledger']>): number {
  return ledger.rain_m3 + ledger.run_on_m3 + ledger.sump_m3;
}

function shareDifferences(
  about: 'run-on' | 'passed-on',
  old: readonly Share[],
  now: readonly Share[],
): Difference[] {
  const lots = new Set([...old, ...now].map(({ lot }) => lot));
  const of = (shares: readonly Share[], lot: string | null): number =>
    shares.find((share) => share.lot === lot)?.volume_m3 ?? 0;
  return [...lots].map((lot) => volume(about, lot, of(old, lot), of(now, lot)));
}

/** Water standing in each low spot; one that is gone, or new, counts as nothing on the other side. */
function standingDifferences(before: DrainageResult, after: DrainageResult): Difference[] {
  const comesIn = Math.max(
    before.ledger === null ? 0 : comesInM3(before.ledger),
    after.ledger === null ? 0 : comesInM3(after.ledger),
  );
  const namesakes = matchSpots(before.low_spots, after.low_spots);
  const stands = ({ standing }: DrainageResult, id: string | undefined): number =>
    standing.find((row) => row.id === id)?.volume_m3 ?? 0;
  const earlier = new Set(namesakes.values());
  const rows = [
    ...after.low_spots.map(({ id, number }) => ({
      ...volume('low-spot', id, stands(before, namesakes.get(id)), stands(after, id)),
      lowSpot: { number, gone: false },
    })),
    ...before.low_spots
      .filter(({ id }) => !earlier.has(id))
      .map(({ id, number }) => ({
        ...volume('low-spot', id, stands(before, id), 0),
        lowSpot: { number, gone: true },
      })),
  ];
  return rows.filter((row) => Math.abs(row.after - row.before) > leastShare * comesIn);
}

/** For each low spot of now the id of the one it was: by name, else the nearest within reach that is not taken. */
function matchSpots(
  old: readonly LowSpotRow[],
  now: readonly LowSpotRow[],
): ReadonlyMap<string, string> {
  const names = new Set(old.map(({ id }) => id));
  const found = new Map(now.filter(({ id }) => names.has(id)).map(({ id }) => [id, id]));
  const free = old.filter(({ id }) => !found.has(id));
  for (const spot of now) {
    if (found.has(spot.id)) continue;
    const near = free
      .map((other, index) => ({ index, metres: metresBetween(spot, other) }))
      .filter(({ metres }) => metres <= sameSpotM)
      .sort((a, b) => a.metres - b.metres)
      .at(0);
    if (near === undefined) continue;
    found.set(spot.id, free[near.index].id);
    free.splice(near.index, 1);
  }
  return found;
}

function metresBetween(a: LowSpotRow, b: LowSpotRow): number {
  return distance([...a.deepest], [...b.deepest], { units: 'meters' });
}

function areaDifferences(before: DrainageResult, after: DrainageResult): Difference[] {
  return after.contributing.flatMap((row): Difference[] => {
    const old = before.contributing.find(({ feature }) => feature === row.feature);
    if (old === undefined) return [];
    const least = Math.max(leastM2, leastAreaShare * Math.max(row.area_m2, old.area_m2));
    if (Math.abs(row.area_m2 - old.area_m2) <= least) return [];
    const spot = after.low_spots.find(({ id }) => id === row.feature);
    return [
      {
        about: 'drains-to',
        id: row.feature,
        ...(spot === undefined ? {} : { lowSpot: { number: spot.number, gone: false } }),
        unit: 'm2',
        before: old.area_m2,
        after: row.area_m2,
      },
    ];
  });
}

function wallDifferences(before: DrainageResult, after: DrainageResult): Difference[] {
  return after.buildings.flatMap((row): Difference[] => {
    const old = before.buildings.find(({ building }) => building === row.building);
    if (old === undefined || Math.abs(row.depth_m - old.depth_m) <= leastDepthM) return [];
    return [
      { about: 'at-wall', id: row.building, unit: 'm', before: old.depth_m, after: row.depth_m },
    ];
  });
}

function volume(
  about: Difference['about'],
  id: string | null,
  before: number,
  after: number,
): Difference {
  return { about, id, unit: 'm3', before, after };
}

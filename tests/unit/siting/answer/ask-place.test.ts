import { describe, expect, it } from 'vitest';
import type { XY } from '../../../../lib/frame/frame';
import { askPlace, type PlaceAnswer } from '../../../../lib/siting/answer/ask-place';
import { Scan } from '../../../../lib/siting/search/scan';
import { defaultWeights } from '../../../../lib/siting/sizing/score';
import { searchSites } from '../../../../lib/siting/search/search-sites';
import { SearchedLot } from '../../../../lib/siting/sizing/searched-lot';
import { frame } from '../../setback/plan-of';
import { box, fallingSouth, inputOf, lotWithHouse } from '../sloping-lot';

const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 32, 26, 44));
const input = inputOf(plan, fallingSouth(-10, 60, 60, 70, 0.5, 0.03), [
  { id: 'south-east', at: [26.3, 31.8], areaM2: 84 },
]);

function ask(at: XY, reachableM3?: number): PlaceAnswer {
  const searched = new SearchedLot(input);
  return askPlace(searched, new Scan(searched), frame, at, defaultWeights, reachableM3);
}

describe('askPlace', () => {
  it('answers for a place that was found with a basin of about its score', async () => {
    const { sites, reachable_m3 } = await searchSites(input);
    const found = ask(sites[0].at, reachable_m3);
    expect(found.nearest).toBeNull();
    expect(found.lot).toBe('lot');
    expect(found.here?.at).toEqual(sites[0].at);
    expect(found.here?.score).toBeLessThanOrEqual(sites[0].score + 1e-9);
    expect(found.here?.score).toBeGreaterThan(0.9 * sites[0].score);
    expect(found.forbidding.filter(({ row }) => row.binding === 'must')).toEqual([]);
  });

  it('names the rule, how far short it is, and the nearest place that would do', () => {
    const at: XY = [20, 30];
    const { here, forbidding, nearest } = ask(at);
    expect(here).toBeNull();
    const foundation = forbidding.find(
      ({ row }) => row.feature === 'house' && row.required_m !== null,
    );
    // Two metres from the house.
    expect(foundation?.shortByM).toBeCloseTo((foundation?.row.required_m ?? 0) - 2, 2);
    if (nearest === null) throw new Error('the lot is wide');
    expect(nearest.distance_m).toBeCloseTo(
      Math.hypot(nearest.at[0] - at[0], nearest.at[1] - at[1]),
      9,
    );
    // Away from the house, which is to the north.
    expect(Math.abs(nearest.bearing_deg - 180)).toBeLessThan(60);
    const there = ask(nearest.at);
    expect(there.here).not.toBeNull();

    // No allowed place that is nearer by a cell has a basin.
    const searched = new SearchedLot(input);
    for (let degrees = 0; degrees < 360; degrees += 30) {
      const angle = (degrees * Math.PI) / 180;
      const nearer = nearest.distance_m - 1;
      const tried: XY = [at[0] + nearer * Math.sin(angle), at[1] + nearer * Math.cos(angle)];
      for (const outline of searched.outlines) {
        const found = searched.size(tried, outline, true);
        expect(found.fits).toBe(false);
      }
    }
  });

  it('says so off the lot', () => {
    const { lot, here, nearest } = ask([-4, 20]);
    expect(lot).toBeNull();
    expect(here).toBeNull();
    expect(nearest?.bearing_deg).toBeGreaterThan(45);
    expect(nearest?.bearing_deg).toBeLessThan(135);
  });
});

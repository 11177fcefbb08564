import { describe, expect, it } from 'vitest';
import { areaBeyondM2, insetAreas } from '../../../../lib/basin/form/bowl-storage';
import { searchSites } from '../../../../lib/siting/search/search-sites';
import { SearchedLot } from '../../../../lib/siting/sizing/searched-lot';
import type { Sized } from '../../../../lib/siting/sizing/sized-place';
import { basinOutline } from '../../../../lib/siting/sizing/basin-outline';
import { areaCapturing, siteToFill } from '../../../../lib/siting/sizing/simulated-size';
import type { SiteSimulator, SitingInput } from '../../../../lib/siting/sizing/siting-input';
import { box, fallingSouth, inputOf, lotWithHouse } from '../sloping-lot';

const inchM = 0.0254;

/** A simulator with an answer in closed form: what comes is an inch, what is held is a depth over the area. */
function holding(
  depthM: number,
  fromFullH: number | null = 10,
  afterRainH: number | null = 1,
): SiteSimulator {
  return ({ areaM2, groundM2, roofM2 }) => {
    const inflowM3 = inchM * (areaM2 + groundM2 + roofM2);
    const heldM3 = Math.min(inflowM3, depthM * areaM2);
    return {
      inflowM3,
      overflowM3: inflowM3 - heldM3,
      capturedFraction: heldM3 / inflowM3,
      afterRainH,
      fromFullH,
    };
  };
}

function lot(more: Partial<SitingInput> = {}): SitingInput {
  const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 32, 26, 44));
  return inputOf(
    plan,
    fallingSouth(-10, 60, 60, 70, 1, 0.03),
    [{ id: 'south-east', at: [26.3, 31.8], areaM2: 84 }],
    more,
  );
}

function sizedOn(searched: SearchedLot): Sized {
  const found = searched.sizeAt([30, 14], basinOutline('round', 1, 0), 12);
  if (!found.fits) throw new Error('the place is open');
  return found;
}

describe('areaCapturing', () => {
  const searched = new SearchedLot(lot());
  const sized = sizedOn(searched);

  it('asks about a place with all its water, the place’s own rain counted once', () => {
    const asked = siteToFill(searched, sized);
    expect(asked.areaM2).toBe(12);
    expect(asked.pondingDepthM).toBeCloseTo(0.1016, 9);
    // All ground sheds the mean here, so it is the ground itself.
    expect(asked.groundM2 + asked.areaM2 + asked.roofM2).toBeCloseTo(sized.catchesM2, 6);
  });

  it('finds the area of the closed form', () => {
    // The catch stays, so a share s of an inch on it stands over A by the depth d: A = s * inch * catch / d.
    const wholeM3 = inchM * sized.catchesM2;
    for (const share of [0.5, 0.8, 0.9]) {
      const depthM = (share * wholeM3) / 15;
      const areaM2 = areaCapturing(sized, holding(depthM), share, searched);
      expect(areaM2).toBeGreaterThanOrEqual(15 - 1e-9);
      expect(areaM2).toBeLessThan(15 * 1.031);
    }
  });

  it('is the least that is allowed where that does, and none where the largest does not', () => {
    expect(areaCapturing(sized, holding(100), 0.9, searched)).toBe(searched.minAreaM2);
    expect(areaCapturing(sized, holding(0.001), 0.9, searched)).toBeNull();
  });
});

describe('the form that the simulator is given', () => {
  const searched = new SearchedLot(lot());

  it('is one object for outlines that differ in turn alone, and of no other', () => {
    const oval = searched.formRim(basinOutline('oval', 2, 0.3));
    expect(searched.formRim(basinOutline('oval', 2, 1.1))).toBe(oval);
    expect(searched.formRim(basinOutline('oval', 3, 0.3))).not.toEqual(oval);
    expect(searched.formRim(basinOutline('kidney', 2, 0.3))).not.toEqual(oval);
  });

  it('has the outline of the place, whatever its turn', () => {
    const found = searched.sizeAt([30, 14], basinOutline('oval', 2, 1), 12);
    if (!found.fits) throw new Error('the place is open');
    const inset = insetAreas(siteToFill(searched, found).rim);
    const own = insetAreas(found.rim);
    const scale = Math.sqrt(own.areaM2 / inset.areaM2);
    for (const insideM of [0.2, 0.5, 1])
      expect(scale ** 2 * areaBeyondM2(inset, insideM / scale)).toBeCloseTo(
        areaBeyondM2(own, insideM),
        1,
      );
  });
});

describe('several basins with a simulator', () => {
  it('keep the balance of each and of all, what one sends on counted once', async () => {
    // A lot so narrow that one lies below the other.
    const narrow = inputOf(
      lotWithHouse(box(0, 0, 11, 50), box(1, 44, 6, 49)),
      fallingSouth(-10, 60, 60, 70, 1, 0.03),
      [{ id: 'west', at: [3.5, 43.8], areaM2: 40 }],
      { simulate: holding(0.02), basins: 2, maxAreaM2: 12 },
    );
    const { joint } = await searchSites(narrow);
    if (joint === null) throw new Error('two fit');
    const { basins } = joint;
    for (const { inflow_m3, from_overflow_m3, captured_m3, overflow_m3 } of basins)
      expect(captured_m3 + overflow_m3).toBeCloseTo(inflow_m3 + from_overflow_m3, 9);
    const sent = basins.reduce((sum, basin) => sum + basin.from_overflow_m3, 0);
    const goesOn = basins.reduce((sum, basin) => sum + basin.overflow_m3, 0);
    expect(sent).toBeGreaterThan(0);
    expect(joint.captured_m3).toBeCloseTo(joint.inflow_m3 - (goesOn - sent), 9);
  });
});

describe('searchSites with a simulator', () => {
  it('gives what the simulation captures, and how long it drains', async () => {
    const depthM = 0.3;
    const { sites } = await searchSites(lot({ simulate: holding(depthM, 7) }));
    expect(sites.length).toBeGreaterThan(3);
    for (const site of sites) {
      const heldM3 = Math.min(site.inflow_m3, depthM * site.area_m2);
      expect(site.captured_m3).toBeCloseTo(heldM3, 6);
      expect(site.captured_fraction).toBeCloseTo(heldM3 / site.inflow_m3, 6);
      expect(site.simulated?.overflow_m3).toBeCloseTo(site.inflow_m3 - heldM3, 6);
      expect(site).toMatchObject({ drain_down_h: 7, unknown: null });
      expect(site.simulated).toMatchObject({ after_rain_h: 1, from_full_h: 7 });
    }
  });

  it('judges by the longer of the times after the rain and from full', async () => {
    const { sites } = await searchSites(lot({ simulate: holding(0.3, 7, 50) }));
    expect(sites.length).toBeGreaterThan(3);
    for (const { drain_down_h, setbacks } of sites) {
      expect(drain_down_h).toBe(50);
      const row = setbacks.results.find(({ rule }) => rule === 'drain-down');
      expect(row).toMatchObject({ measured_h: 50, result: 'fail' });
    }
  });

  it('says so where it never drains, or why there is no simulation', async () => {
    const never = await searchSites(lot({ simulate: holding(0.3, null) }));
    for (const site of never.sites) {
      expect(site.drain_down_h).toBeNull();
      expect(site.unknown).toBe('It does not drain in the time looked at.');
    }
    const none = await searchSites(lot({ simulate: { unknown: 'the soil is not known' } }));
    expect(none.sites[0]).toMatchObject({
      simulated: null,
      drain_down_h: null,
      unknown: 'the soil is not known',
    });
  });

  it('refines the best: never for a lower score, and only where every rule is kept', async () => {
    const { sites } = await searchSites(lot({ simulate: holding(0.2) }));
    expect(sites.some(({ gain }) => gain > 0)).toBe(true);
    for (const { gain, setbacks } of sites) {
      expect(gain).toBeGreaterThanOrEqual(0);
      expect(setbacks.summary.must_fail).toBe(0);
    }
  });
});

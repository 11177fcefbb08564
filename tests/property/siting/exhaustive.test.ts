import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { checkSetbacks } from '../../../lib/setback/judge/check-setbacks';
import { defaultWeights, scoreOf, scoreParts } from '../../../lib/siting/sizing/score';
import { searchSites } from '../../../lib/siting/search/search-sites';
import { SearchedLot } from '../../../lib/siting/sizing/searched-lot';
import type { Sized } from '../../../lib/siting/sizing/sized-place';
import { basinOutline, rimAt, type OutlineForm } from '../../../lib/siting/sizing/basin-outline';
import type { SitingInput } from '../../../lib/siting/sizing/siting-input';
import type { Drawn } from '../../unit/setback/plan-of';
import { planOf } from '../../unit/setback/plan-of';
import { box, fallingSouth, inputOf, today } from '../../unit/siting/sloping-lot';

/** The common set's distance from the lot line, 10 ft. */
const lineM = 3.048;
const leastM2 = 4.65;

/** A corner of a figure turned and moved, so that nothing lies along rows or on cells. */
function placed([x, y]: XY, turnRad: number, by: XY): XY {
  return [
    by[0] + x * Math.cos(turnRad) - y * Math.sin(turnRad),
    by[1] + x * Math.sin(turnRad) + y * Math.cos(turnRad),
  ];
}

function lot(corners: readonly XY[]): Drawn {
  return { id: 'lot', properties: { kind: 'lot', own: true }, rings: [corners] };
}

/** A lot whose open ground, once the lot line is kept, is a rectangle. */
function slot(lengthM: number, widthM: number, turnRad: number, by: XY): Drawn {
  const halfX = lengthM / 2 + lineM;
  const halfY = widthM / 2 + lineM;
  return lot(box(-halfX, -halfY, halfX, halfY).map((corner) => placed(corner, turnRad, by)));
}

function inputFor(drawn: readonly Drawn[], more: Partial<SitingInput> = {}): SitingInput {
  const ground = fallingSouth(-25, 25, 50, 50, 1, 0.02);
  return inputOf(planOf(...drawn), ground, [], more);
}

function mustFail(input: SitingInput, rim: readonly XY[]): number {
  const { plan, ruleSet, elevation } = input;
  return checkSetbacks({ plan, ruleSet, elevation, today, basins: [{ id: 'b', rim }] }).summary
    .must_fail;
}

/** Half the length and width of an ellipse of an area and aspect. */
function halves(areaM2: number, aspect: number): [number, number] {
  const short = Math.sqrt(areaM2 / (Math.PI * aspect));
  return [aspect * short, short];
}

const anywhere = fc.record({
  turnRad: fc.double({ min: 0, max: Math.PI, noNaN: true }),
  by: fc.tuple(
    fc.double({ min: -3, max: 3, noNaN: true }),
    fc.double({ min: -3, max: 3, noNaN: true }),
  ),
});

describe('a lot with one answer', () => {
  const onlyOne = { minAreaM2: leastM2, maxAreaM2: leastM2 };

  it('is found whichever way its slot runs and wherever it lies', async () => {
    await fc.assert(
      fc.asyncProperty(anywhere, fc.constantFrom(1, 1.5, 2, 3), async ({ turnRad, by }, aspect) => {
        const [a, b] = halves(leastM2, aspect);
        const input = inputFor([slot(2 * a + 0.2, 2 * b + 0.2, turnRad, by)], onlyOne);
        const { sites } = await searchSites(input);
        expect(sites.length).toBe(1);
        expect(mustFail(input, sites[0].rim)).toBe(0);
        // A tenth of a metre is left on every side.
        expect(Math.hypot(sites[0].at[0] - by[0], sites[0].at[1] - by[1])).toBeLessThan(0.45);
      }),
      { seed: 31, numRuns: 16 },
    );
  });

  it('has none when its slot is a tenth too narrow for every form', async () => {
    await fc.assert(
      fc.asyncProperty(anywhere, async ({ turnRad, by }) => {
        // The narrowest that is tried is an oval of 3.5; a teardrop or kidney is no narrower.
        const [, b] = halves(leastM2, 3.5);
        const input = inputFor([slot(20, 2 * b * 0.9, turnRad, by)], onlyOne);
        const { sites, notes, ways_out } = await searchSites(input);
        expect(sites).toEqual([]);
        expect(notes[0].code).toBe('does-not-fit');
        expect(ways_out.find(({ kind }) => kind === 'smaller')?.area_m2).toBeGreaterThan(1);
      }),
      { seed: 32, numRuns: 6 },
    );
  });

  it('has none at all where the lot line leaves nothing', async () => {
    const input = inputFor([slot(12, -0.1, 0.4, [1, 0.3])]);
    const { sites, allowed_m2, ways_out } = await searchSites(input);
    expect(sites).toEqual([]);
    expect(allowed_m2).toBe(0);
    expect(ways_out.find(({ rule }) => rule === 'lot-line')?.area_m2).toBeGreaterThan(leastM2);
  });
});

interface Small {
  readonly widthM: number;
  readonly depthM: number;
  readonly turnRad: number;
  readonly trees: readonly { readonly at: XY; readonly canopyM: number }[];
}

const small: fc.Arbitrary<Small> = fc.record({
  widthM: fc.double({ min: 7.5, max: 14, noNaN: true }),
  depthM: fc.double({ min: 8, max: 14, noNaN: true }),
  turnRad: fc.double({ min: 0, max: Math.PI, noNaN: true }),
  trees: fc.array(
    fc.record({
      at: fc.tuple(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: -5, max: 5, noNaN: true }),
      ),
      canopyM: fc.double({ min: 0.4, max: 2, noNaN: true }),
    }),
    { maxLength: 3 },
  ),
});

function smallLot({ widthM, depthM, turnRad, trees }: Small): Drawn[] {
  const corners = box(-widthM / 2, -depthM / 2, widthM / 2, depthM / 2);
  return [
    lot(corners.map((corner) => placed(corner, turnRad, [0.3, -0.2]))),
    ...trees.map(({ at, canopyM }, i) => ({
      id: `tree-${i}`,
      properties: { kind: 'tree' as const, trunk_diameter_m: 0.05, canopy_radius_m: canopyM },
      point: at,
    })),
  ];
}

/** Whether a basin of an area lies lawfully at any of many places, in any of many directions and forms. */
function bruteForceFits(input: SitingInput, areaM2: number): boolean {
  const forms: [OutlineForm, number][] = [
    ['round', 1],
    ['oval', 1.5],
    ['oval', 2],
    ['oval', 3],
    ['kidney', 2],
    ['teardrop', 1.6],
  ];
  const open: XY[] = [];
  for (let x = -7; x <= 7; x += 0.5) {
    for (let y = -7; y <= 7; y += 0.5) if (mustFail(input, [[x, y]]) === 0) open.push([x, y]);
  }
  return forms.some(([form, aspect]) => {
    const directions = form === 'round' ? 1 : 12;
    return Array.from({ length: directions }, (_, k) =>
      // An oval looks the same after half a turn.
      basinOutline(form, aspect, (k * Math.PI) / (form === 'oval' ? 12 : 6)),
    ).some((outline) => open.some((at) => mustFail(input, rimAt(outline, at, areaM2)) === 0));
  });
}

describe('against every place, direction and form tried one by one', () => {
  it('misses no lot on which something fits, and offers nothing where nothing does', async () => {
    const seen = { some: 0, none: 0 };
    await fc.assert(
      fc.asyncProperty(small, async (each) => {
        const input = inputFor(smallLot(each), { minAreaM2: leastM2, maxAreaM2: leastM2 });
        const { sites } = await searchSites(input);
        for (const site of sites) expect(mustFail(input, site.rim)).toBe(0);
        if (sites.length > 0) {
          seen.some++;
          return;
        }
        seen.none++;
        expect(bruteForceFits(input, leastM2)).toBe(false);
      }),
      { seed: 33, numRuns: 24 },
    );
    expect(seen.some).toBeGreaterThan(4);
    expect(seen.none).toBeGreaterThan(4);
  });

  it('scores no worse than the best of them all, sized in full', async () => {
    await fc.assert(
      fc.asyncProperty(small, async (each) => {
        const input = inputFor(smallLot({ ...each, widthM: each.widthM + 4 }));
        const searched = new SearchedLot(input);
        const all: Sized[] = [];
        for (let x = -10; x <= 10; x += 0.5) {
          for (let y = -8; y <= 8; y += 0.5) {
            for (const outline of searched.outlines) {
              if (searched.margins.fitting(outline, [x, y], leastM2) === null) continue;
              const found = searched.size([x, y], outline);
              if (found.fits) all.push(found);
            }
          }
        }
        const { sites } = await searchSites(input);
        if (all.length === 0) return;
        const most = Math.max(...all.map(({ scored }) => scored.capturedM3));
        const best = Math.max(
          ...all.map(({ scored }) => scoreOf(scoreParts(scored, most), defaultWeights)),
        );
        expect(sites.length).toBeGreaterThan(0);
        expect(sites[0].score).toBeGreaterThan(0.99 * best);
      }),
      { seed: 34, numRuns: 5 },
    );
  });
});

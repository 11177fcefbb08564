import { describe, expect, it } from 'vitest';
import { bulkingOf } from '../../../../lib/basin/form/bulking';
import { costOf, earthworkOf, quantitiesOf } from '../../../../lib/basin/form/earthwork';
import { layersOf } from '../../../../lib/basin/form/layers';
import { stageStorage } from '../../../../lib/basin/form/stage-storage';
import { wayOut } from '../../../../lib/basin/form/way-out';
import { planSoil } from '../../../../lib/soil/plan-soil';
import type { UsdaTexture } from '../../../../lib/plan/soil-settings';
import { groundOf } from '../../ground/plane-lot';
import { built, falling, turnedBox } from '../made-basin';

const { layers } = layersOf({ dig_depth_m: 0.45 });
const unknownSoil = planSoil(undefined, []);
const of = (usda_texture: UsdaTexture) => planSoil({ usda_texture }, []);

describe('earth moved', () => {
  it('cuts the whole bowl on level ground and needs no fill', () => {
    const made = built();
    const earth = earthworkOf(made, 0.45, unknownSoil);
    const table = stageStorage(made);
    const bowlM3 = table.volumesM3[table.volumesM3.length - 1];
    // and the sill of the notch, 1 m wide and 5 cm deep, through the ground outside
    expect(earth.cutM3 - bowlM3).toBeGreaterThan(0);
    expect(earth.cutM3 - bowlM3).toBeLessThan(0.2);
    expect(earth.fillM3).toBe(0);
    expect(earth.digM3).toBeCloseTo(24 * 0.45, 6);
    expect(earth.spoilM3).toBeCloseTo(earth.cutM3 + earth.digM3, 9);
    // common earth, as chosen within the published range
    expect(earth.spoilLooseM3 / earth.spoilM3).toBeCloseTo(1.25, 9);
  });

  it('is the change of the ground, cell by cell', () => {
    const made = built({}, falling(0.06));
    const { cutM3, fillM3, disturbedM2 } = earthworkOf(made, 0.45, unknownSoil);
    let [cut, fill] = [0, 0];
    made.grid.z.forEach((z, cell) => {
      const change = (z - made.before.z[cell]) * made.grid.cellM ** 2;
      if (change > 0) fill += change;
      else cut -= change;
    });
    expect(cutM3).toBeCloseTo(cut, 4);
    expect(fillM3).toBeCloseTo(fill, 4);
    expect(disturbedM2).toBeGreaterThan(made.rimAreaM2);
  });

  it('builds the berm out of the cut, and less than all of it on a slope', () => {
    const earth = earthworkOf(built({}, falling(0.06)), 0, of('loam'));
    expect(earth.fillM3).toBeGreaterThan(0.3);
    // loam, the middle of 0.82 to 0.88 (bulking.ts names the source)
    expect(earth.forFillM3).toBeCloseTo(earth.fillM3 / 0.85, 9);
    expect(earth.spoilM3).toBeCloseTo(earth.cutM3 - earth.forFillM3, 9);
  });

  it('digs less for layers where the bowl lies on fill', () => {
    const steep = built({ rim: turnedBox([15, 12], 8, 6), pondingDepthM: 0.1 }, falling(0.1));
    const earth = earthworkOf(steep, 0.45, unknownSoil);
    expect(earth.digM3).toBeLessThan(48 * 0.45 - 1);
    expect(earth.digM3).toBeGreaterThan(48 * 0.45 * 0.5);
  });

  // 'Swell and shrinkage of excavated materials', a builders' calculation page (seen): 200 yd3 that swell by 40 % are 280.
  it('swells by soil: 200 of clay are 280', () => {
    expect(200 * (1 + bulkingOf(of('clay')).swell)).toBeCloseTo(280, 9);
    expect(bulkingOf(of('sand')).swell).toBeLessThan(bulkingOf(of('loam')).swell);
    expect(bulkingOf(unknownSoil)).toBe(bulkingOf(of('loam')));
  });
});

describe('quantities and cost', () => {
  const made = built();
  const rows = quantitiesOf(made, earthworkOf(made, 0.45, unknownSoil), layers, true);
  const row = (name: string) => rows.find((each) => each.name === name);

  it('lists earth, materials, stone', () => {
    expect(rows.map(({ name }) => name)).toEqual([
      'cut',
      'dig for layers',
      'berm fill',
      'spoil',
      'coarse sand',
      'planting mix',
      'mulch',
      'notch stone',
      'disturbed ground',
    ]);
    expect(row('planting mix')?.volume_m3).toBeCloseTo(24 * 0.15, 9);
    expect(row('planting mix')?.loose_m3).toBeCloseTo(24 * 0.15 * 1.15, 9);
    expect(row('notch stone')?.area_m2).toBeCloseTo(1.5, 9);
  });

  it('adds layers of one material up', () => {
    const twice = layersOf({
      layers: [
        { material: 'gravel', thickness_m: 0.1 },
        { material: 'topsoil', thickness_m: 0.2 },
        { material: 'gravel', thickness_m: 0.1 },
      ],
    }).layers;
    const added = quantitiesOf(made, earthworkOf(made, 0.4, unknownSoil), twice, false);
    const gravel = added.filter(({ name }) => name === 'gravel');
    expect(gravel).toHaveLength(1);
    expect(gravel[0].volume_m3).toBeCloseTo(24 * 0.2, 9);
    expect(gravel[0].loose_m3).toBeCloseTo(24 * 0.2 * 1.05, 9);
  });

  it('asks for soil where the berm takes more than the cut gives', () => {
    // a shallow bowl with a high rim all round: the ground inside lies low
    const dish = groundOf(30, 24, 0.5, (x, y) => (Math.hypot(x - 15, y - 12) < 2.5 ? 4.6 : 5));
    const raised = built({ pondingDepthM: 0.02 }, dish);
    const earth = earthworkOf(raised, 0, unknownSoil);
    expect(earth.spoilM3).toBeLessThan(0);
    const [lacking] = quantitiesOf(raised, earth, [], false).filter(
      ({ name }) => name === 'soil to bring',
    );
    expect(lacking.volume_m3).toBeCloseTo(-earth.spoilM3, 9);
    expect(lacking.loose_m3).toBeGreaterThan(lacking.volume_m3);
  });

  it('costs what the plan has prices for, and names the rest', () => {
    const cost = costOf(rows, { mulch: 40, 'notch stone': 90, 'disturbed ground': 2, sods: 3 });
    const mulch = row('mulch')!.loose_m3!;
    expect(cost.total).toBeCloseTo(
      40 * mulch + 90 * row('notch stone')!.loose_m3! + 2 * row('disturbed ground')!.area_m2!,
      9,
    );
    expect(cost.rows.map(({ unit }) => unit)).toEqual(['m3', 'm3', 'm2']);
    expect(cost.missing).toEqual(['cut', 'dig for layers', 'spoil', 'coarse sand', 'planting mix']);
    expect(cost.unused).toEqual(['sods']);
    expect(costOf(rows, undefined)).toMatchObject({ total: 0, rows: [] });
  });
});

describe('the way out of a full basin', () => {
  it('leads over the sill on a slope', () => {
    const made = built({ freeboardM: 0.1 }, falling(0.05));
    const out = wayOut(made);
    expect(out.overSillM).toBeCloseTo(0, 5);
    expect(out.notes).toEqual([]);
  });

  it('is backed up by a notch on the high side, until water runs over the rim', () => {
    const made = built({ freeboardM: 0.1, overflow: [11, 12] }, falling(0.05));
    const out = wayOut(made);
    expect(out.overSillM).toBeCloseTo(0.1, 2);
    expect(out.notes.join()).toMatch(/backs water up 10 cm .*low side/);
  });

  it('is backed up on level ground, which has no low side', () => {
    expect(wayOut(built({ freeboardM: 0.05 })).notes.join()).toMatch(/up 5 cm .*shallow swale/);
  });

  it('is backed up by the hollow that it lies in', () => {
    const hollow = groundOf(
      30,
      24,
      0.5,
      (x, y) => 4 + 0.06 * (Math.hypot(x - 15, y - 12) - 3) ** 2,
    );
    const made = built({ freeboardM: 0.05 }, hollow);
    expect(wayOut(made).notes.join()).toMatch(/lies in a hollow/);
  });
});

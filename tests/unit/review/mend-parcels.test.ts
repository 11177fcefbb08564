import { describe, expect, it } from 'vitest';
import { areaM2 } from '../../../lib/frame/shapes';
import { featuresOf } from '../../../lib/plan/schema';
import { toLocal } from '../../../lib/plan/local-plan';
import { defaultPavedFraction, withDefaultPaving } from '../../../lib/review/default-paving';
import { mendParcels } from '../../../lib/review/mend-parcels';
import { ownersColumns } from '../../../lib/review/owners-columns';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { lotRunOff } from '../../../lib/drainage/answer/lot-run-off';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { box, frame, groundOf, planOf, polygonOf } from '../ground/plane-lot';

const lot = (id: string, ...corners: Parameters<typeof box>) =>
  polygonOf(id, box(...corners), { kind: 'lot', own: true });
const mended = (...lots: ReturnType<typeof lot>[]) => {
  const { lots: kept, notes } = mendParcels(featuresOf(planOf(lots).plan, 'lot'));
  const { of } = toLocal({ ...planOf(lots).plan, features: kept }, frame);
  return { areas: of.lot.map(({ id, shape }) => [id, Math.round(areaM2(shape.rings))]), notes };
};

describe('parcels as they come', () => {
  it('that fit stay as they are, and nothing is said', () => {
    const found = mended(lot('a', 0, 0, 20, 30), lot('b', 20, 0, 40, 30));
    expect(found).toEqual({
      areas: [
        ['a', 600],
        ['b', 600],
      ],
      notes: [],
    });
  });

  it('close narrow gaps and overlaps onto the parcel that comes first', () => {
    for (const west of [20.2, 19.8]) {
      const { areas, notes } = mended(lot('a', 0, 0, 20, 30), lot('b', west, 0, 40, 30));
      expect(areas).toEqual([
        ['a', 600],
        ['b', 600],
      ]);
      expect(notes).toEqual([
        '2 corners within 0.3 m of the line of a parcel before theirs were moved onto it, by 0.20 m at most',
      ]);
    }
    const wide = mended(lot('a', 0, 0, 20, 30), lot('b', 21, 0, 40, 30));
    expect(wide.areas[1]).toEqual(['b', 570]);
  });

  it('go where they are slivers, twice the same or wholly on others; overlaps are named', () => {
    const { areas, notes } = mended(
      lot('a', 0, 0, 20, 30),
      lot('sliver', 20, 0, 21, 30),
      lot('again', 0.1, 0, 20.1, 30),
      lot('within', 5, 5, 15, 15),
      lot('b', 15, 0, 40, 30),
    );
    expect(areas.map(([id]) => id)).toEqual(['a', 'b']);
    const all = notes.join('\n');
    expect(all).toMatch(/same lot twice: again \(as a\)/);
    expect(all).toMatch(/slivers, .*: sliver/);
    expect(all).toMatch(/lies on parcels before them: within \(on a\)/);
    expect(all).toMatch(/counts to the parcel named second: b with a, 150 m²/);
  });
});

describe('what nobody drew', () => {
  it('is paved by the average for the size of the lot, less its roofs', () => {
    const acre = 4046.8564224;
    expect(defaultPavedFraction(acre, 0)).toBeCloseTo(0.2, 9);
    expect(defaultPavedFraction((acre * 3) / 4, 0)).toBeCloseTo(0.225, 9);
    expect(defaultPavedFraction(acre / 4, 0.38 * (acre / 4))).toBe(0);
    expect(defaultPavedFraction(100, 100)).toBe(0);
  });

  it('is paved evenly in that share, where no surface is drawn', () => {
    const { plan } = planOf([
      lot('bare', 2, 2, 22, 22),
      lot('drawn', 24, 2, 44, 22),
      polygonOf('drive', box(26, 4, 30, 10), { kind: 'surface', cover: 'paving' }),
      polygonOf('house', box(6, 6, 14, 14), { kind: 'building' }),
    ]);
    const { plan: paved, notes } = withDefaultPaving(plan);
    const [bare, drawn] = featuresOf(paved, 'lot').map(({ properties }) => properties);
    expect(bare.paved_fraction).toBeCloseTo((0.65 * 400 - 64) / (400 - 64), 3);
    expect(drawn.paved_fraction).toBeUndefined();
    expect(notes[0]).toMatch(/^On 1 lots .*table 2-2a/);
    const local = toLocal(paved, frame);
    const shape = shapeGround(
      groundOf(50, 30, 0.5, (x) => 10 + x / 50),
      local,
    );
    const { surfaces } = lotRunOff(shape, stormOnGround(shape, local, 40), local, 0);
    const areaOf = (cover: string): number =>
      surfaces.find((row) => row.cover === cover)?.area_m2 ?? 0;
    const openM2 = areaOf('paving') + areaOf('lawn');
    expect(areaOf('paving') / openM2).toBeCloseTo(bare.paved_fraction ?? 0, 1);
  });

  it('about owners is not kept', () => {
    const layer = {
      columns: ['PIN', 'OwnerName', 'MAIL_ADDR', 'Acres'].map((name) => ({ name, samples: [] })),
      shapes: [{ parts: [], properties: { PIN: '7', OwnerName: 'x', MAIL_ADDR: 'y', Acres: 1 } }],
    } as unknown as Parameters<typeof ownersColumns>[0];
    const { layer: kept, dropped } = ownersColumns(layer);
    expect(dropped).toEqual(['OwnerName', 'MAIL_ADDR']);
    expect(kept.shapes[0].properties).toEqual({ PIN: '7', Acres: 1 });
    expect(kept.columns.map(({ name }) => name)).toEqual(['PIN', 'Acres']);
  });
});

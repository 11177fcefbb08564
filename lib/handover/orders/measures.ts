import {
  cubicFootM3,
  cubicYardM3,
  footM,
  litreM3,
  poundKg,
  shortTonKg,
  squareFootM2,
  tonneKg,
  yardM,
} from '../../units/units';

/** What a quantity is counted in. */
export type Unit = 'm3' | 'm2' | 'm' | 'kg' | 'piece';

/** Units that things are sold by, each in the one that quantities are counted in. */
const sellingUnits: ReadonlyMap<string, { readonly unit: Unit; readonly factor: number }> = new Map(
  (
    [
      ['m3', 1, 'm3 m³ cbm cubic-metre cubic-meter'],
      ['m3', litreM3, 'l litre litres liter liters'],
      ['m3', cubicYardM3, 'yd3 yd³ cy cubic-yard cubic-yards'],
      ['m3', cubicFootM3, 'ft3 ft³ cf cubic-foot cubic-feet'],
      ['m2', 1, 'm2 m²'],
      ['m2', squareFootM2, 'ft2 ft² sqft'],
      ['m', 1, 'm'],
      ['m', footM, 'ft foot feet'],
      ['m', yardM, 'yd yard yards'],
      ['kg', 1, 'kg'],
      ['kg', 0.001, 'g'],
      ['kg', tonneKg, 't tonne tonnes'],
      ['kg', poundKg, 'lb lbs pound pounds'],
      ['kg', shortTonKg, 'ton tons short-ton'],
      ['piece', 1, 'piece pieces each plant plants'],
    ] as const
  ).flatMap(([unit, factor, names]) =>
    names.split(' ').map((name) => [name, { unit, factor }] as const),
  ),
);

/** Names of units that a price list may have, one for each. */
export const unitNames = 'm3, L, yd3, ft3, m2, ft2, m, ft, yd, kg, t, lb, ton, piece';

/** A unit by its name, `null` when there is none of it. */
export function sellingUnit(name: string): { readonly unit: Unit; readonly factor: number } | null {
  return sellingUnits.get(name.toLowerCase().replaceAll(' ', '-')) ?? null;
}

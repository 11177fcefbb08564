import type { Source } from '../../source';
import { cubicYardM3, poundKg } from '../../units/units';

/** What a cubic metre of something loose weighs, from moist to soaked. */
export interface Density {
  readonly kgPerM3: readonly [number, number];
  readonly source: Source;
}

const yards: Source = {
  title: 'Weights of garden soils by the cubic yard, saturated',
  publisher: 'a supplier of soils, tests in its own yard',
  year: null,
  mark: 'seen',
};
const summary: Source = {
  title: 'Weights of moist garden materials by the cubic yard',
  publisher: 'none, a summary on the web',
  year: null,
  mark: 'seen in a secondary copy',
};
const remembered: Source = {
  title: 'Weights of loose building materials',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};

/** Pounds a cubic yard, as sources have it. */
function pounds(from: number, to: number, source: Source): Density {
  const factor = poundKg / cubicYardM3;
  return { kgPerM3: [from * factor, to * factor], source };
}

const soil = pounds(2200, 2700, summary);
const stone = pounds(2700, 3000, remembered);

/** By the name of the quantity. */
const densities: Readonly<Record<string, Density>> = {
  mulch: pounds(400, 800, summary),
  compost: pounds(1000, 1724, yards),
  'planting mix': pounds(1836, 2700, yards),
  topsoil: pounds(1836, 2700, yards),
  'coarse sand': pounds(2700, 3000, remembered),
  gravel: stone,
  'notch stone': stone,
  'inlet stone': stone,
  cut: soil,
  'dig for layers': soil,
  'berm fill': soil,
  spoil: soil,
  'soil to bring': soil,
};

/** What a quantity of this name weighs, `null` for what is not weighed. */
export function densityOf(name: string): Density | null {
  return densities[name] ?? null;
}

import type { BasinDesign } from '../../basin/design/design-result';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import { inletStone, quantitiesOf, type QuantityRow } from '../../basin/form/earthwork';
import { perimeterM } from '../../frame/shapes';
import { longestAcross } from '../../frame/longest-across';
import { plantsFor, type PlantGrid } from '../../planting/plant-count';
import { practice, type Source } from '../../source';
import { inchM } from '../../units/units';
import { densityOf } from './weights';
import type { Unit } from './measures';

/** What becomes of a quantity: moved about on the lot, taken away, or bought. */
export type NeedUse = 'move' | 'away' | 'buy';

/** One thing that the job takes, as it is carried or bought. */
export interface Need {
  readonly name: string;
  readonly use: NeedUse;
  readonly amount: number;
  readonly unit: Unit;
  /** In the ground or laid, m3; `null` for what has no volume. */
  readonly inPlaceM3: number | null;
  /** From moist to soaked, kg. */
  readonly weightKg: readonly [number, number] | null;
  readonly weightSource: Source | null;
  readonly note: string;
  readonly source: Source | null;
}

/** How plants are set where no list of them is given. */
export interface PlantSpacing {
  readonly spacingM: number;
  readonly grid: PlantGrid;
}

/** 18 in on a triangular grid. Common practice, no source. */
export const usualSpacing: PlantSpacing = { spacingM: 18 * inchM, grid: 'triangular' };

/** Lawn seed for bare ground. */
const seedKgPerM2 = 0.03;
const seedSource: Source = {
  title: 'Lawn seed, 25 to 35 g on a square metre of bare ground',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};

/** One garden of the job: its form, and which of its ways in and out are lined with stone. */
export interface Garden {
  readonly built: BasinAsBuilt;
  readonly notchStone: boolean;
  /** Width over which stone is laid where the water comes in; 0 for none. */
  readonly inletStoneM: number;
  /** Room of a perforated pipe in the lowest layer. */
  readonly hasUnderdrain: boolean;
}

/** A garden as it was designed. */
export function gardenOf(
  built: BasinAsBuilt,
  { overflow }: BasinDesign,
  hasUnderdrain: boolean,
): Garden {
  return {
    built,
    notchStone: overflow.notch.stone,
    inletStoneM: overflow.inlet.result === 'pass' ? 0 : overflow.inlet.width_m,
    hasUnderdrain,
  };
}

/** Plants of a list as they were laid out, for the rows of an order. */
export interface PlantsCounted {
  readonly zone: string;
  readonly name: string;
  readonly count: number;
  readonly spreadM: number;
}

/**
 * What one garden takes: earth, materials, stone, edging, pipe, plants, seed.
 *
 * @param plants - how they are spaced where no list is given, else those that were laid out.
 */
export function needsOf(
  garden: Garden,
  plants: PlantSpacing | readonly PlantsCounted[] = usualSpacing,
): Need[] {
  const { built, notchStone, inletStoneM } = garden;
  const rows = quantitiesOf(built.finished, built.earth, built.layers.layers, notchStone);
  if (inletStoneM > 0) rows.push(inletStone(inletStoneM));
  return [
    ...rows.flatMap(volumeNeed),
    ...edgeNeeds(garden),
    ...('spacingM' in plants ? plantNeeds(built, plants) : plants.map(countedNeed)),
    ...seedNeed(built),
  ].filter(({ amount }) => amount > 0);
}

function countedNeed({ zone, name, count, spreadM }: PlantsCounted): Need {
  return {
    ...bare,
    name: `plants, ${name}`,
    amount: count,
    unit: 'piece',
    note: `${zone} zone, ${Math.round(spreadM * 100)} cm across, as lotfall plants lays them out`,
    source: null,
  };
}

const moved: ReadonlySet<string> = new Set(['cut', 'dig for layers', 'berm fill']);

function volumeNeed(row: QuantityRow): Need[] {
  if (row.volume_m3 === 0) return [];
  const amount = row.loose_m3 ?? row.volume_m3;
  const density = densityOf(row.name);
  return [
    {
      name: row.name,
      use: moved.has(row.name) ? 'move' : row.name === 'spoil' ? 'away' : 'buy',
      amount,
      unit: 'm3',
      inPlaceM3: row.volume_m3,
      weightKg:
        density === null ? null : [amount * density.kgPerM3[0], amount * density.kgPerM3[1]],
      weightSource: density?.source ?? null,
      note: row.note,
      source: row.source,
    },
  ];
}

/** What a need without a volume has in common. */
const bare = { use: 'buy', inPlaceM3: null, weightKg: null, weightSource: null } as const;

function edgeNeeds({ built, hasUnderdrain }: Garden): Need[] {
  const { rim } = built.finished.shape;
  const edging: Need = {
    ...bare,
    name: 'edging',
    amount: perimeterM(rim),
    unit: 'm',
    note: 'once around the rim',
    source: null,
  };
  if (!hasUnderdrain) return [edging];
  return [
    edging,
    {
      ...bare,
      name: 'perforated pipe',
      amount: longestAcross(rim),
      unit: 'm',
      note: 'once through the basin at its longest; the way on to where it empties is not in it',
      source: practice,
    },
  ];
}

function plantNeeds({ zones }: BasinAsBuilt, { spacingM, grid }: PlantSpacing): Need[] {
  return zones.map(({ zone, areaM2 }): Need => ({
    ...bare,
    name: `plants, ${zone} zone`,
    amount: Math.ceil(plantsFor(areaM2, spacingM, grid) - 1e-9),
    unit: 'piece',
    note: `${Math.round(spacingM * 100)} cm apart on a ${grid} grid; lotfall plants lays them out by their spread`,
    source: practice,
  }));
}

function seedNeed({ earth, finished }: BasinAsBuilt): Need[] {
  const bareM2 = Math.max(0, earth.disturbedM2 - finished.rimAreaM2);
  return [
    {
      ...bare,
      name: 'seed',
      amount: bareM2 * seedKgPerM2,
      unit: 'kg',
      note: `for ${bareM2.toFixed(1)} m2 of berm and bank outside the rim`,
      source: seedSource,
    },
  ];
}

/** The needs of several gardens as one job: what has the same name is bought together. */
export function together(lists: readonly (readonly Need[])[]): Need[] {
  const byName = new Map<string, Need>();
  for (const need of lists.flat()) {
    const before = byName.get(need.name);
    byName.set(need.name, before === undefined ? need : sum(before, need));
  }
  return [...byName.values()];
}

function sum(a: Need, b: Need): Need {
  const weightKg: Need['weightKg'] =
    a.weightKg === null || b.weightKg === null
      ? null
      : [a.weightKg[0] + b.weightKg[0], a.weightKg[1] + b.weightKg[1]];
  return {
    ...a,
    amount: a.amount + b.amount,
    inPlaceM3: a.inPlaceM3 === null || b.inPlaceM3 === null ? null : a.inPlaceM3 + b.inPlaceM3,
    weightKg,
    note: a.note === b.note ? a.note : `${a.note}; ${b.note}`,
  };
}

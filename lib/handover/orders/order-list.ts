import { sourceLine } from '../../source';
import type { UnitSystem } from '../../units/units';
import { barrow, barrowLoads, loadsByWeight, wholeUp } from './loads';
import type { Unit } from './measures';
import type { Need, NeedUse } from './needs';
import { itemName, type Hire, type PriceList } from './price-list';
import { bought, ranked, usualForms, type Bought } from './sold';

/** What a job takes and costs. Field names are those of the JSON output. */
export interface OrderList {
  readonly rows: readonly OrderRow[];
  readonly hires: readonly HireRow[];
  readonly delivery: { readonly loads: number; readonly cost: number } | null;
  /** `null` without a price list. */
  readonly cost: OrderCost | null;
  readonly notes: readonly string[];
}

export interface OrderRow {
  readonly name: string;
  readonly use: NeedUse;
  /** As carried or bought, in `unit`. */
  readonly amount: number;
  readonly unit: Unit;
  readonly in_place_m3: number | null;
  /** From moist to soaked. */
  readonly weight_kg: readonly [number, number] | null;
  readonly weight_source: string | null;
  /** Loads of a usual barrow, `null` for what is not wheeled. */
  readonly barrow_loads: number | null;
  /** Loads that a trailer bears when the material is soaked; `null` where none was named. */
  readonly trailer_loads: number | null;
  /** What to buy or have taken away; `null` for what only moves about. */
  readonly buy: SoldRow | null;
  /** Other forms that it comes in. */
  readonly or: readonly SoldRow[];
  readonly note: string;
  readonly source: string | null;
}

export interface SoldRow {
  readonly as: string;
  readonly size: string;
  readonly count: number;
  /** In the row's unit: what they hold together. */
  readonly brings: number;
  readonly price: number | null;
  readonly cost: number | null;
  /** `null` for a form of the price list. */
  readonly source: string | null;
}

export interface HireRow {
  readonly item: string;
  readonly days: number;
  readonly cost: number;
}

export interface OrderCost {
  readonly price_list: string;
  /** Of what has a price, without tax. */
  readonly net: number;
  readonly tax: number;
  readonly total: number;
  /** To be kept back beside the total. */
  readonly reserve: number;
  readonly ready: number;
  /** What has no price and is in no sum. */
  readonly missing: readonly string[];
  /** Lines of the price list that this job has no use for. */
  readonly unused: readonly string[];
}

export interface OrderOptions {
  readonly system: UnitSystem;
  readonly prices?: PriceList;
  /** What a trailer or a drive bears at once, kg. */
  readonly payloadKg?: number;
}

/** The needs of a job in what is sold, with weights, loads and cost. */
export function orderList(needs: readonly Need[], options: OrderOptions): OrderList {
  const { prices } = options;
  const rows = needs.map((need) => rowOf(need, options));
  const hires = prices?.hires.map(hireRow) ?? [];
  const delivery = prices === undefined ? null : deliveryOf(rows, prices);
  return {
    rows,
    hires,
    delivery,
    cost: prices === undefined ? null : costOf(rows, hires, delivery?.cost ?? 0, prices),
    notes: notesOf(needs, prices),
  };
}

function rowOf(need: Need, { system, prices, payloadKg }: OrderOptions): OrderRow {
  const listed = formsOf(need, prices);
  const ways = (listed ?? usualForms(need, system)).flatMap((form) => bought(need, form) ?? []);
  const [first, ...others] = need.use === 'move' ? [] : ranked(ways);
  const { weightKg, amount } = need;
  return {
    name: need.name,
    use: need.use,
    amount,
    unit: need.unit,
    in_place_m3: need.inPlaceM3,
    weight_kg: weightKg,
    weight_source: need.weightSource === null ? null : sourceLine(need.weightSource),
    barrow_loads: weightKg === null ? null : wholeUp(barrowLoads(amount, weightKg[1] / amount)),
    trailer_loads:
      weightKg === null || payloadKg === undefined || need.use === 'move'
        ? null
        : loadsByWeight(weightKg[1], payloadKg),
    buy: (first as Bought | undefined) === undefined ? null : soldRow(first),
    or: others.map(soldRow),
    note: need.note,
    source: need.source === null ? null : sourceLine(need.source),
  };
}

/** Forms of the price list: by the whole name, else by the part before a comma ('plants, deep zone'). */
function formsOf({ name }: Need, prices: PriceList | undefined) {
  return prices?.forms.get(itemName(name)) ?? prices?.forms.get(familyOf(name));
}

/** What a thing is one of: the part of its name before a comma. */
export function familyOf(name: string): string {
  return name.split(',')[0];
}

function soldRow({ form, count, brings, cost }: Bought): SoldRow {
  return {
    as: form.as,
    size: form.sizeText,
    count,
    brings,
    price: form.price,
    cost,
    source: form.source === null ? null : sourceLine(form.source),
  };
}

function hireRow({ item, days, pricePerDay }: Hire): HireRow {
  return { item, days, cost: days * pricePerDay };
}

/** Loads of what comes loose: bags are fetched. */
function deliveryOf(rows: readonly OrderRow[], { delivery }: PriceList): OrderList['delivery'] {
  if (delivery === null) return null;
  const loose = rows.filter(({ use, buy }) => use === 'buy' && buy?.as === 'bulk');
  if (loose.length === 0) return { loads: 0, cost: 0 };
  const { load, pricePerLoad } = delivery;
  // what is not mixed on the way: each material has loads of its own
  const loads =
    load === null
      ? 1
      : loose.reduce((sum, row) => {
          const amount = load.unit === 'm3' ? (row.buy?.brings ?? 0) : (row.weight_kg?.[1] ?? 0);
          return sum + wholeUp(amount / load.size);
        }, 0);
  return { loads, cost: loads * pricePerLoad };
}

function costOf(
  rows: readonly OrderRow[],
  hires: readonly HireRow[],
  deliveryCost: number,
  prices: PriceList,
): OrderCost {
  const paid = rows.filter(({ use }) => use !== 'move');
  const net =
    paid.reduce((sum, { buy }) => sum + (buy?.cost ?? 0), 0) +
    hires.reduce((sum, { cost }) => sum + cost, 0) +
    deliveryCost;
  const tax = net * prices.tax;
  const total = net + tax;
  const reserve = total * prices.reserve;
  const known = new Set(rows.flatMap(({ name }) => [itemName(name), familyOf(name)]));
  return {
    price_list: prices.name,
    net,
    tax,
    total,
    reserve,
    ready: total + reserve,
    missing: paid.filter(({ buy }) => (buy?.cost ?? null) === null).map(({ name }) => name),
    unused: [...prices.forms.keys()].filter((item) => !known.has(item)),
  };
}

function notesOf(needs: readonly Need[], prices: PriceList | undefined): string[] {
  return [
    `Barrow-loads are of 6 ft3 (170 L) for mulch and half of that for what is heavy: ${sourceLine(barrow.source)}.`,
    'Weights are from moist to soaked; what is sold by weight, and what a trailer or a drive bears, is reckoned soaked.',
    ...(prices?.notes ?? []).map((note) => `${prices?.name ?? ''}: ${note}`),
    ...(prices === undefined
      ? [
          'No price list is given: forms that things are sold in are common practice, and nothing has a price.',
        ]
      : needs
          .filter((need) => need.use !== 'move' && unfit(need, prices))
          .map(
            ({ name, unit }) =>
              `${prices.name} sells ${name} in no form that measures ${unit}: it has no price here.`,
          )),
  ];
}

function unfit(need: Need, prices: PriceList): boolean {
  const forms = formsOf(need, prices);
  return forms !== undefined && forms.every((form) => bought(need, form) === null);
}

import type { DrainageResult } from './drainage-result';
import { isWorthNaming, type Ledger } from './ledger';

/** What two answers are held beside each other by: the parts of an answer that both a result and a bare storm can give. */
export type Answered = Pick<DrainageResult, 'exchange'> & {
  /** Of the own lot; null without one. */
  readonly ledger: Ledger | null;
  readonly buildings: readonly { readonly building: string; readonly depth_m: number }[];
};

/** One figure in two states of a plan, whether it differs or not. */
export interface StateFigure {
  readonly about: 'at-wall' | 'exchange' | 'run-on' | LedgerPart;
  /** Building, or the lot that water comes from; null for the own lot as a whole, or for ground on no lot. */
  readonly id: string | null;
  /** The lot that water goes to, null for ground on no lot; left out where it goes to none. */
  readonly to?: string | null;
  readonly unit: 'm3' | 'm';
  readonly before: number;
  readonly after: number;
}

type LedgerPart = 'soaked' | 'standing' | 'basin' | 'barrel' | 'sewer';
const parts: readonly LedgerPart[] = ['soaked', 'standing', 'basin', 'barrel', 'sewer'];

/** A figure without the states: what it is about. */
export function figureKey({ about, id, to }: Pick<StateFigure, 'about' | 'id' | 'to'>): string {
  return JSON.stringify([about, id, to ?? null]);
}

/**
 * Depth at each wall, what lots send each other and where the own lot's water ends, in two answers, figure by figure. What one
 * of them does not have counts as nothing there, but for walls, which are told where they stand in both.
 *
 * @returns of the later answer walls, what goes over lot lines and the own lot's, then what only the earlier has. Volumes over
 * a line that are not worth naming are left out.
 */
export function stateFigures(before: Answered, after: Answered): StateFigure[] {
  const was = new Map(figuresOf(before).map((figure) => [figureKey(figure), figure]));
  const is = new Map(figuresOf(after).map((figure) => [figureKey(figure), figure]));
  const keys = [...new Set([...is.keys(), ...was.keys()])];
  return keys.flatMap((key): StateFigure[] => {
    const figure = is.get(key) ?? was.get(key);
    if (figure === undefined) return [];
    const { about, id, to, unit } = figure;
    // At the wall of a house that is not there nothing can be told.
    if (about === 'at-wall' && !(was.has(key) && is.has(key))) return [];
    const before = was.get(key)?.value ?? 0;
    const after = is.get(key)?.value ?? 0;
    return [{ about, id, ...(to === undefined ? {} : { to }), unit, before, after }];
  });
}

type Figure = Omit<StateFigure, 'before' | 'after'> & { readonly value: number };

function figuresOf({ ledger, exchange, buildings }: Answered): Figure[] {
  const walls = buildings.map(({ building, depth_m }): Figure => ({
    about: 'at-wall',
    id: building,
    unit: 'm',
    value: depth_m,
  }));
  const sent = exchange.filter(isWorthNaming).map(({ from, to, volume_m3 }): Figure => ({
    about: 'exchange',
    id: from,
    to,
    unit: 'm3',
    value: volume_m3,
  }));
  if (ledger === null) return [...walls, ...sent];
  // What comes from other lots is among what those send.
  const outside = ledger.run_on_from
    .filter((share) => share.lot === null && isWorthNaming(share))
    .map(({ volume_m3 }): Figure => ({
      about: 'run-on',
      id: null,
      to: ledger.lot,
      unit: 'm3',
      value: volume_m3,
    }));
  const own = parts.map((part): Figure => ({
    about: part,
    id: null,
    unit: 'm3',
    value: ledger[`${part}_m3`],
  }));
  return [...walls, ...sent, ...outside, ...own.filter(({ value }) => value > 0)];
}

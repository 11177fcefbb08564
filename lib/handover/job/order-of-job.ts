import type { Grid } from '../../elevation/grid';
import type { LocalPlan } from '../../plan/local-plan';
import { layOut } from '../../planting/lay-out';
import type { Plant } from '../../planting/plant';
import { largerGardens } from '../orders/larger-garden';
import type { Unit } from '../orders/measures';
import {
  needsOf,
  together,
  usualSpacing,
  type Garden,
  type PlantSpacing,
  type PlantsCounted,
} from '../orders/needs';
import { orderList, type OrderList, type OrderOptions } from '../orders/order-list';
import { compareQuotes, type Quote, type QuoteRow } from '../orders/quotes';

/** Share by which the garden is made larger to see what more costs. */
const moreShare = 0.1;

/** The order of a whole job. Field names are those of the JSON output. */
export interface OrderDocument extends OrderList {
  readonly quotes: readonly QuoteRow[];
  readonly ten_percent_more: {
    readonly rows: readonly { readonly name: string; readonly more: number; readonly unit: Unit }[];
    readonly more_total: number | null;
  };
}

export interface OrderInput {
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  readonly gardens: readonly Garden[];
  readonly options: OrderOptions;
  readonly quotes: readonly Quote[];
  /** How plants stand where no list of them is given. */
  readonly spacing?: PlantSpacing;
  /** `null` counts them by area alone. */
  readonly plants: readonly Plant[] | null;
}

/** What gardens take, by what is sold; what others ask for it; what a tenth more takes. */
export function orderOfJob(input: OrderInput): OrderDocument {
  const { elevation, plan, gardens, options, quotes, spacing = usualSpacing, plants } = input;
  const ordered = (all: readonly Garden[]): OrderList =>
    orderList(
      together(
        all.map((each) =>
          needsOf(each, plants === null ? spacing : laidOut(each, plants, spacing)),
        ),
      ),
      options,
    );
  const made = ordered(gardens);
  const more = largerGardens(elevation, plan, gardens, moreShare);
  return {
    ...made,
    quotes: compareQuotes(quotes, made),
    ten_percent_more: tenPercentMore(made, ordered(more.gardens)),
    notes: [...new Set([...made.notes, ...more.notDug])],
  };
}

function laidOut(
  { built }: Garden,
  plants: readonly Plant[],
  { grid }: PlantSpacing,
): PlantsCounted[] {
  return layOut(built.zones, plants, { grid }).flatMap(({ zone: { zone }, groups }) =>
    groups.map(({ plant: { name, spreadM }, set }) => ({ zone, name, spreadM, count: set.length })),
  );
}

/** What a tenth more area adds to each quantity and to the cost. */
function tenPercentMore(now: OrderList, larger: OrderList): OrderDocument['ten_percent_more'] {
  const before = new Map(now.rows.map((row) => [row.name, row]));
  return {
    rows: larger.rows.map(({ name, amount, unit }) => ({
      name,
      more: amount - (before.get(name)?.amount ?? 0),
      unit,
    })),
    more_total:
      now.cost === null || larger.cost === null ? null : larger.cost.total - now.cost.total,
  };
}

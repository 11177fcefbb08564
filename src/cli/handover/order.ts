import { basename } from 'node:path';
import { largerGardens } from '../../../lib/handover/orders/larger-garden';
import {
  needsOf,
  together,
  usualSpacing,
  type Garden,
  type PlantSpacing,
  type PlantsCounted,
} from '../../../lib/handover/orders/needs';
import {
  orderList,
  type OrderList,
  type OrderOptions,
} from '../../../lib/handover/orders/order-list';
import { orderTable } from '../../../lib/handover/orders/order-table';
import { readPriceList } from '../../../lib/handover/orders/price-list';
import { compareQuotes, readQuotes } from '../../../lib/handover/orders/quotes';
import { sellingUnit } from '../../../lib/handover/orders/measures';
import { layOut } from '../../../lib/planting/lay-out';
import type { Plant } from '../../../lib/planting/plant';
import { readPlantList } from '../../../lib/planting/read-plant-list';
import { parseLength } from '../../../lib/units/parse-length';
import type { UnitSystem } from '../../../lib/units/units';
import type { Call, Command } from '../command';
import { gardensOf } from '../reading/gardens';
import { elevationHelp, elevationOptions, rainHelp, rainOption } from '../reading/inputs';
import { sentences } from '../notes';
import { orderText } from './order-text';
import { readText } from '../reading/read-text';
import { usage } from '../usage';

/** Share by which the garden is made larger to see what more costs. */
const moreShare = 0.1;

/** `lotfall order`: what to buy, bring and take away. */
export const order: Command = {
  name: 'order',
  summary: 'what to buy, bring and take away, in bags, loads and skips, with weights and cost',
  help: `Usage: lotfall order <plan.geojson> [--elevation <file.tif|https://…>] [--prices prices.csv]

${elevationHelp}
${rainHelp}
  --prices <file.csv>                   your price list, without tax: columns item, sold as, size, unit, price, [count],
                                        [note]; rows named as the list below has them, 'delivery' by the load, hire by the
                                        'day' with a count, 'tax' and 'reserve' in %
  --quotes <file.csv>                   what others ask: columns from, item, price; 'everything' for the whole
  --payload <weight>                    what a trailer or a drive bears at once, for example 750kg or 1600lb
  --plant-spacing <length>              from plant to plant; when not given 18 in (46 cm)
  --plant-grid <square|triangular>      how plants stand; when not given triangular
  --plants <file.csv>                   your list of plants, as 'lotfall plants --list' reads it: each is counted as laid out
  --out <file>                          .csv, .json or .txt

How earth swells and packs and how much more is ordered can be given in the plan (lotfall.earth: swell, compacted,
order_more). Quantities are of the finished ground; figures are estimates for planning.`,
  options: {
    ...elevationOptions,
    ...rainOption,
    prices: { type: 'string' },
    quotes: { type: 'string' },
    payload: { type: 'string' },
    'plant-spacing': { type: 'string' },
    'plant-grid': { type: 'string' },
    plants: { type: 'string' },
  },
  forms: ['.csv'],
  async run(call) {
    const prices = call.option('prices');
    const list =
      prices === undefined
        ? undefined
        : readPriceList(await readText(prices, 'the price list'), basename(prices));
    const quotes = call.option('quotes');
    const offers =
      quotes === undefined
        ? []
        : readQuotes(await readText(quotes, 'the list of quotes'), basename(quotes));
    if (offers.length > 0 && list === undefined) {
      throw usage('quotes have nothing to be compared with', 'add --prices <file.csv>');
    }
    const payloadKg = payloadOf(call);
    const { plan, survey, gardens, notes } = await gardensOf(call);
    const system = plan.lotfall.units ?? 'metric';
    const spacing = spacingOf(call, system);
    const options: OrderOptions = {
      system,
      ...(list === undefined ? {} : { prices: list }),
      ...(payloadKg === null ? {} : { payloadKg }),
    };
    const plants = await plantsOf(call, system);
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
    const more = largerGardens(survey.elevation.grid, survey.plan, gardens, moreShare);
    const larger = ordered(more.gardens);
    const document = {
      ...made,
      quotes: compareQuotes(offers, made),
      ten_percent_more: tenPercentMore(made, larger),
      notes: sentences(notes, made.notes, more.notDug),
    };
    return {
      text: orderText(document, { title: plan.lotfall.name ?? 'Order', system }),
      json: document,
      files: { '.csv': orderTable(made) },
    };
  },
};

/** The plants of the list that the call names; `null` where it names none. */
async function plantsOf(call: Call, system: UnitSystem): Promise<readonly Plant[] | null> {
  const path = call.option('plants');
  if (path === undefined) return null;
  return readPlantList(await readText(path, 'the list of plants'), basename(path), system);
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
function tenPercentMore(now: OrderList, larger: OrderList) {
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

function payloadOf(call: Call): number | null {
  const named = call.option('payload');
  if (named === undefined) return null;
  const [, figure, name] = /^([\d.]+)\s*([a-z-]+)$/i.exec(named.trim()) ?? [];
  const unit = sellingUnit(name ?? '');
  const kg = Number(figure) * (unit?.factor ?? NaN);
  if (unit?.unit === 'kg' && kg > 0) return kg;
  throw usage(`'${named}' is no weight`, 'write it like 750kg, 1.5t or 1600lb');
}

function spacingOf(call: Call, system: UnitSystem): PlantSpacing {
  const grid = call.option('plant-grid') ?? usualSpacing.grid;
  if (grid !== 'square' && grid !== 'triangular') {
    throw usage(`plants stand on no grid '${grid}'`, 'use square or triangular');
  }
  const named = call.option('plant-spacing');
  if (named === undefined) return { ...usualSpacing, grid };
  const spacingM = parseLength(named, system, { field: 'plant spacing' });
  if (spacingM >= 0.05) return { spacingM, grid };
  throw usage(`plants ${named} apart have no room`, 'give 5cm or more');
}

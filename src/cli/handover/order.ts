import { orderOfJob } from '../../../lib/handover/job/order-of-job';
import { plantsOf } from '../../../lib/handover/job/plants-of-job';
import { usualSpacing, type PlantSpacing } from '../../../lib/handover/orders/needs';
import type { OrderOptions } from '../../../lib/handover/orders/order-list';
import { orderTable } from '../../../lib/handover/orders/order-table';
import { readPriceList } from '../../../lib/handover/orders/price-list';
import { readQuotes } from '../../../lib/handover/orders/quotes';
import { parseLength } from '../../../lib/units/parse-length';
import type { UnitSystem } from '../../../lib/units/units';
import type { Call, Command } from '../command';
import { gardensOf } from '../reading/gardens';
import { elevationHelp, elevationOptions, rainHelp, rainOption } from '../reading/inputs';
import { jobOf } from '../reading/job';
import { sentences } from '../notes';
import { orderText } from './order-text';
import { usage } from '../usage';

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
    const { plan, survey, gardens, notes } = await gardensOf(call);
    const job = await jobOf(call, plan);
    const { price_list: priceList, quotes: quoted } = job;
    const prices = priceList === undefined ? null : readPriceList(priceList.csv, priceList.name);
    const quotes = quoted === undefined ? [] : readQuotes(quoted.csv, quoted.name);
    if (quotes.length > 0 && prices === null) {
      throw usage('quotes have nothing to be compared with', 'add --prices <file.csv>');
    }
    const system = plan.lotfall.units ?? 'metric';
    const spacing = spacingOf(call, system);
    const options: OrderOptions = {
      system,
      ...(prices === null ? {} : { prices }),
      ...(job.payload_kg === undefined ? {} : { payloadKg: job.payload_kg }),
    };
    const made = orderOfJob({
      elevation: survey.elevation.grid,
      plan: survey.plan,
      gardens,
      options,
      quotes,
      spacing,
      plants: plantsOf(job, system),
    });
    const document = { ...made, notes: sentences(notes, made.notes) };
    return {
      text: orderText(document, { title: plan.lotfall.name ?? 'Order', system }),
      json: document,
      files: { '.csv': orderTable(made) },
    };
  },
};

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

import type { BasinDesign } from '../../basin/design/design-result';
import { isDesigned } from '../../basin/design/design-result';
import { formatArea, formatVolume } from '../../units/format';
import { letters } from '../drawing/board';
import { plantCounts, usualSpacingM } from '../facts/plant-counts';
import type { SheetFacts } from '../facts/sheet-facts';
import { formatLength } from '../../units/format';
import { flowLeaves, type Block } from './flow';
import type { Leaf, Making } from './leaf';
import { orderBlocks } from './order-blocks';
import { SourceList } from './source-list';
import type { Table } from './table';

/** What is dug, brought and planted, with what was allowed for, and what it costs by the plan's own prices. */
export function quantitiesPages(making: Making): Leaf[] {
  const { facts } = making;
  const about = { name: 'quantities', title: 'Quantities, orders and cost' };
  const basins = (facts.design?.basins ?? []).filter(isDesigned);
  if (basins.length === 0) {
    const why =
      facts.plan.of.basin.length === 0
        ? 'There is no garden on the plan to take quantities of.'
        : 'Without elevation nothing is known of the earth to be moved.';
    return flowLeaves(
      making,
      { ...about, missing: [why] },
      {
        main: [
          { kind: 'heading', text: 'No quantities' },
          { kind: 'text', text: why },
        ],
        side: [],
      },
    );
  }
  const sources = new SourceList();
  const { order } = facts.job;
  const main = [
    ...basins.flatMap((basin) => basinBlocks(facts, basin, sources)),
    ...(order === null ? [] : orderBlocks(order, facts.units)),
  ];
  const side: Block[] = [
    { kind: 'heading', text: 'How they come about' },
    {
      kind: 'items',
      items: [
        'Volumes in place are those of the ground as built, in cells of 5 cm: bowl, berm, bank and notch. Loose is what is carried or ordered.',
        'The dig goes straight down inside the rim and has the form of the bowl: the same depth under its sides as under its floor.',
        'Order by the loose figure, rounded up to what is sold; soil left over is spread where it keeps water off walls, or taken away.',
        `Plants are counted as laid out on a triangular grid ${formatLength(usualSpacingM, facts.units)} apart (common practice, no source); use the spread of the plants chosen where it is known.`,
        ...(order?.notes ?? []),
      ],
    },
    ...sources.blocks(),
  ];
  return flowLeaves(making, { ...about, missing: facts.job.lacks.order }, { main, side });
}

function basinBlocks(facts: SheetFacts, basin: BasinDesign, sources: SourceList): Block[] {
  return [
    { kind: 'heading', text: `${basin.name}: earth and materials` },
    { kind: 'table', table: quantityTable(facts, basin, sources) },
    { kind: 'heading', text: `${basin.name}: plants` },
    { kind: 'table', table: plantTable(facts, basin.id) },
    ...costBlocks(facts, basin),
  ];
}

function quantityTable(
  { units }: SheetFacts,
  { quantities }: BasinDesign,
  sources: SourceList,
): Table {
  return {
    columns: [
      { head: 'what', width: 20, look: letters.bodyBold },
      { head: 'in place', width: 12, align: 'end' },
      { head: 'loose, to order or carry', width: 14, align: 'end', look: letters.figureBold },
      { head: 'over', width: 12, align: 'end' },
      { head: 'how', width: 46, look: { ...letters.body, pt: 7.2 } },
      { head: 'source', width: 9, look: letters.label },
    ],
    rows: quantities.map(
      ({ name, volume_m3: volumeM3, loose_m3: looseM3, area_m2: areaM2, note, source }) => [
        name,
        volumeM3 === 0 ? '–' : formatVolume(volumeM3, units),
        looseM3 === undefined ? '–' : formatVolume(looseM3, units),
        areaM2 === undefined ? '' : formatArea(areaM2, units),
        note,
        sources.ref(source),
      ],
    ),
    rowMm: 5.2,
  };
}

function plantTable({ built, units }: SheetFacts, id: string): Table {
  const zones = built.get(id)?.zones ?? [];
  return {
    columns: [
      { head: 'zone', width: 20, look: letters.bodyBold },
      { head: 'area', width: 14, align: 'end' },
      { head: 'water when full', width: 26, align: 'end' },
      { head: 'plants', width: 12, align: 'end', look: letters.figureBold },
      { head: 'what grows there', width: 50, look: { ...letters.body, pt: 7.2 } },
    ],
    rows: plantCounts(zones, usualSpacingM).map(({ zone, areaM2, waterM, count, grows }) => [
      zone,
      formatArea(areaM2, units),
      waterM[1] === 0
        ? 'none'
        : `${formatLength(waterM[0], units)} to ${formatLength(waterM[1], units)}`,
      String(count),
      grows,
    ]),
    rowMm: 5.2,
  };
}

function costBlocks({ plan }: SheetFacts, { cost, name: basinName }: BasinDesign): Block[] {
  if (cost.rows.length === 0 || plan.plan.lotfall.prices === undefined) return [];
  return [
    { kind: 'heading', text: `${basinName}: by the prices in the plan` },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'what', width: 30, look: letters.bodyBold },
          { head: 'quantity', width: 20, align: 'end' },
          { head: 'price', width: 20, align: 'end' },
          { head: 'cost', width: 20, align: 'end', look: letters.figureBold },
        ],
        rows: [
          ...cost.rows.map(({ name, quantity, unit, price, cost: sum }) => [
            name,
            `${quantity.toFixed(2)} ${unit === 'm3' ? 'm³' : 'm²'}`,
            price.toFixed(2),
            sum.toFixed(2),
          ]),
          ['all that has a price', '', '', cost.total.toFixed(2)],
        ],
      },
    },
    { kind: 'text', text: cost.note },
  ];
}

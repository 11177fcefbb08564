import { basinSections } from '../../basin/form/section';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import { monthNames } from '../../planting/months';
import { nativeReminder } from '../../planting/plant';
import type { PlantedGroup, PlantingPlan } from '../../planting/planting-plan';
import { formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { Board, letters, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { rectRun } from '../drawing/mark';
import { scaleText } from '../paper/scale';
import { drawnBasins, type DrawnBasin } from '../views/basin-drawing';
import { drawNorth, drawScaleBar, drawViewTitle } from '../views/furniture';
import { gardenView } from '../views/garden-view';
import { flowLeaves, type Block } from './flow';
import { heading, padded, paragraph, type Leaf, type Making } from './leaf';
import { drawTable, type Cell, type Table } from './table';

const small: Lettered = { ...letters.body, pt: 7.2 };

/** Each plant of the list in its place, what it is, when it blooms, and how it is cared for; none where no plants are named. */
export function plantingPages(making: Making): Leaf[] {
  const plans = making.facts.job.planting ?? [];
  const basins = drawnBasins(making.facts);
  return plans.flatMap((plan, i) => {
    const basin = basins.find(({ id }) => id === plan.id);
    if (basin?.built === null || basin === undefined) return [];
    const suffix = i === 0 ? '' : `-${i + 1}`;
    const whose = plans.length === 1 ? '' : `: ${plan.name.slice(0, 40)}`;
    return [
      layoutPage(making, basin, basin.built, plan, {
        name: `planting${suffix}`,
        title: `Plants, each in its place${whose}`,
      }),
      ...listPages(making, plan, {
        name: `plants${suffix}`,
        title: `Plants, bloom and care${whose}`,
      }),
    ];
  });
}

interface Coded {
  readonly code: string;
  readonly zone: string;
  readonly group: PlantedGroup;
}

/** Plants with the sign that stands for each in the drawing: letters, beyond Z with a figure. */
function coded({ zones }: PlantingPlan): Coded[] {
  return zones
    .flatMap(({ zone, groups }) => groups.map((group) => ({ zone, group })))
    .map((each, i) => ({
      ...each,
      code: `${String.fromCharCode(65 + (i % 26))}${i < 26 ? '' : String(Math.floor(i / 26))}`,
    }));
}

/** Smaller signs cannot be read: millimetres of a plant's radius on the paper. */
const leastSignMm = 1.15;

function layoutPage(
  { facts, fonts, frame }: Making,
  basin: DrawnBasin,
  built: BasinAsBuilt,
  plan: PlantingPlan,
  about: { readonly name: string; readonly title: string },
): Leaf {
  const board = new Board(fonts);
  const rect = padded(frame.drawing);
  const field = { ...rect, height: rect.height - 15 };
  const { view, centre } = gardenView(field, basin.rim, basinSections(built), facts.units);
  const inner = new Board(fonts);
  for (const { zone, polygons } of built.zones) {
    const fill = { deep: inks.midWater, middle: inks.paleWater, edge: inks.paper }[zone];
    const pen = { ink: inks.water, widthMm: pens.hatch };
    for (const rings of polygons) inner.area(view.rings(rings), { fill, pen });
  }
  inner.area([view.run(basin.rim)], { pen: { ink: inks.water, widthMm: pens.heavy } });
  const plants = coded(plan);
  for (const { code, group } of plants) {
    const radiusMm = view.mm(group.spread_m) / 2;
    const places = view.run(group.at.map((at) => facts.plan.frame.toLocal(at)));
    const pen = { ink: inks.growth, widthMm: pens.fine };
    inner.circles(places, radiusMm, { fill: inks.paper, pen });
    if (radiusMm < leastSignMm) continue;
    const look: Lettered = { ...letters.labelBold, pt: Math.min(9, radiusMm * 2.6) };
    for (const [x, y] of places) {
      inner.text(code, [x, y + look.pt * 0.12], look, { align: 'middle' });
    }
  }
  board.marks.push({ kind: 'clipped', outline: [rectRun(field)], marks: inner.marks });
  drawNorth(board, [rect.x + rect.width - 8, rect.y + 10], facts.plan, centre, view.turn);
  const scale = scaleText(view.ratio, facts.units);
  const at = rect.y + rect.height - 8;
  drawViewTitle(board, [rect.x, at], {
    number: '1',
    name: 'Plants',
    words: `${scale} · each circle is a plant as wide as it grows`,
  });
  drawScaleBar(board, [rect.x + rect.width - 76, at - 1], view.ratio, facts.units);
  drawKey(board, padded(frame.notes), plants, facts.units);
  return { ...about, scale, board, missing: [] };
}

function drawKey(
  board: Board,
  rect: ReturnType<typeof padded>,
  plants: readonly Coded[],
  units: UnitSystem,
): void {
  const bottom = rect.y + rect.height;
  let y = heading(board, 'Plants', rect);
  const table: Table = {
    columns: [
      { head: '', width: 7, look: letters.figureBold },
      { head: 'name', width: 42, look: small },
      { head: 'plants', width: 11, align: 'end', look: letters.figureBold },
      { head: 'wide', width: 15, align: 'end' },
    ],
    rows: plants.map(({ code, group }) => [
      code,
      group.name.slice(0, 80),
      String(group.count),
      formatLength(group.spread_m, units),
    ]),
  };
  const drawn = drawTable(board, table, { ...rect, y: y - 2, height: bottom - y - 10 });
  y = drawn.y + 3;
  const rest = table.rows.length - drawn.next;
  const more = rest > 0 ? `${rest} more on the next sheet. ` : '';
  paragraph(board, `${more}${nativeReminder}`, { ...rect, y }, letters.bodyBold, bottom);
}

function listPages(
  making: Making,
  plan: PlantingPlan,
  about: { readonly name: string; readonly title: string },
): Leaf[] {
  const plants = coded(plan);
  const { units } = making.facts;
  const main: Block[] = [
    { kind: 'heading', text: `${plan.count} plants` },
    { kind: 'table', table: plantTable(plants, units) },
    { kind: 'heading', text: 'In bloom' },
    { kind: 'table', table: bloomTable(plan, plants) },
    ...(plan.bloom.gaps.length === 0
      ? []
      : [{ kind: 'text', text: `Nothing is in bloom in ${plan.bloom.gaps.join(', ')}.` } as const]),
    ...(plan.bloom.unknown.length === 0
      ? []
      : [
          {
            kind: 'text',
            text: `When these bloom is not known: ${plan.bloom.unknown.join(', ')}.`,
          } as const,
        ]),
  ];
  const side: Block[] = [
    { kind: 'text', text: nativeReminder, look: letters.bodyBold },
    { kind: 'heading', text: 'Care of two years' },
    ...plan.care.map(({ when, what, source }): Block => ({
      kind: 'lines',
      lines: [
        { text: when, look: letters.bodyBold },
        { text: `${what} (${source})`, look: small },
      ],
    })),
    ...(plan.notes.length === 0
      ? []
      : ([
          { kind: 'heading', text: 'Notes' },
          { kind: 'items', items: plan.notes, look: small },
        ] satisfies Block[])),
    ...sourcesOf(plants),
  ];
  return flowLeaves(making, about, { main, side });
}

function plantTable(plants: readonly Coded[], units: UnitSystem): Table {
  return {
    columns: [
      { head: '', width: 5, look: letters.figureBold },
      { head: 'name', width: 30, look: letters.bodyBold },
      { head: 'called', width: 26, look: small },
      { head: 'zone', width: 12, look: small },
      { head: 'plants', width: 10, align: 'end', look: letters.figureBold },
      { head: 'by area', width: 10, align: 'end' },
      { head: 'wide', width: 13, align: 'end' },
      { head: 'tall', width: 22, align: 'end' },
      { head: 'sun', width: 20, look: small },
      { head: 'native to', width: 24, look: small },
    ],
    rows: plants.map(({ code, zone, group }): Cell[] => {
      const [low, high] = group.height_m;
      return [
        code,
        group.name,
        group.common ?? '',
        zone,
        String(group.count),
        String(group.by_area),
        formatLength(group.spread_m, units),
        high === 0 ? '' : `${formatLength(low, units)} to ${formatLength(high, units)}`,
        group.sun,
        group.native_to,
      ];
    }),
    rowMm: 4.8,
  };
}

/** A row for each plant whose bloom is known, its months as one band. */
function bloomTable({ bloom }: PlantingPlan, plants: readonly Coded[]): Table {
  const codeOf = new Map(plants.map(({ code, group }) => [group.name, code]));
  return {
    columns: [
      { head: '', width: 7, look: letters.figureBold },
      { head: '', width: 46, look: small },
      ...monthNames.map((name) => ({ head: name, width: 10 })),
    ],
    rows: bloom.rows.map(({ name, months }): Cell[] => [
      codeOf.get(name) ?? '',
      name,
      ...months.map((blooms): Cell => (blooms ? { band: inks.growth } : '')),
    ]),
    rowMm: 4.6,
  };
}

/** Where heights, spreads and blooms of a starter list are from, each source once. */
function sourcesOf(plants: readonly Coded[]): Block[] {
  const said = new Set(
    plants.flatMap(({ group: { sources } }) =>
      sources === null
        ? []
        : [`height: ${sources.height}`, `spread: ${sources.spread}`, `bloom: ${sources.bloom}`],
    ),
  );
  if (said.size === 0) return [];
  return [
    { kind: 'heading', text: 'Sources' },
    { kind: 'items', items: [...said], look: letters.aside },
  ];
}

import type { Fonts } from './drawing/fonts';
import type { Sheet, SheetPage } from './drawing/mark';
import { Board } from './drawing/board';
import type { SheetFacts } from './facts/sheet-facts';
import type { Leaf, Making } from './pages/leaf';
import { cautionPages } from './pages/cautions-page';
import { computationPages } from './pages/computation-page';
import { gardenPages } from './pages/garden-page';
import { linePages } from './pages/line-page';
import { plantingPages } from './pages/planting-page';
import { quantitiesPages } from './pages/quantities-page';
import { rulesPages } from './pages/rules-page';
import { settingOutPages } from './pages/setting-out-page';
import { sitePlan } from './pages/site-plan';
import { waterPage } from './pages/water-page';
import { workPages } from './pages/work-page';
import { drawFrame } from './pages/title-block';
import { pageFrame, type Orientation, type PaperName } from './paper/paper';

/** What may be drawn: the whole set, or water at the line of the lot for those beyond it. */
export const sheetKinds = ['set', 'line'] as const;
export type SheetKind = (typeof sheetKinds)[number];

export interface SheetOptions {
  /** The whole set when not given. */
  readonly sheet?: SheetKind;
  readonly paper: PaperName;
  readonly orientation: Orientation;
  /** Ground metres for one of paper on the site plan; the largest round one that fits when not given. */
  readonly scale?: number;
}

type PageMaker = (making: Making, before: readonly Leaf[]) => readonly Leaf[];

/** The pages of a set, in order. */
const pageMakers: readonly PageMaker[] = [
  (making) => [sitePlan(making)],
  (making) => [waterPage(making)],
  gardenPages,
  plantingPages,
  settingOutPages,
  quantitiesPages,
  workPages,
  computationPages,
  rulesPages,
  cautionPages,
];

const makersOf: Readonly<Record<SheetKind, readonly PageMaker[]>> = {
  set: pageMakers,
  line: [linePages, (making) => [waterPage(making)]],
};

/**
 * Draws the set of a plan.
 *
 * @throws {InputError} `scale-does-not-fit`. Cost: about a tenth of a second a page.
 */
export function makeSheet(facts: SheetFacts, fonts: Fonts, options: SheetOptions): Sheet {
  const { scale, paper, orientation } = options;
  const frame = pageFrame(paper, orientation);
  const making: Making = { facts, fonts, frame, ...(scale === undefined ? {} : { scale }) };
  const leaves: Leaf[] = [];
  for (const make of makersOf[options.sheet ?? 'set']) leaves.push(...make(making, leaves));
  const pages = leaves.map((leaf, i): SheetPage => {
    const { name, title, board, missing } = leaf;
    const around = new Board(fonts);
    drawFrame(around, frame, facts, { title, scale: leaf.scale, number: i + 1, of: leaves.length });
    const { widthMm, heightMm } = frame;
    return { name, title, widthMm, heightMm, marks: [...board.marks, ...around.marks], missing };
  });
  return { title: facts.title, date: facts.date, pages };
}

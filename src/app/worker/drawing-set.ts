import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { assert, type Progress } from '../../../lib/errors';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import type { Sheet } from '../../../lib/sheet/drawing/mark';
import { sheetFacts } from '../../../lib/sheet/facts/sheet-facts';
import { makeSheet, type SheetOptions } from '../../../lib/sheet/make-sheet';
import { sheetPdf } from '../../../lib/sheet/write/pdf';
import { standAloneSvg } from '../../../lib/sheet/write/stand-alone';
import { pageSvg } from '../../../lib/sheet/write/svg';
import { openedFonts } from './sheet-fonts';

/** How a set is drawn. */
export interface SetOptions extends SheetOptions {
  /** ISO date that the set is of, and on which locates must be current. */
  readonly date: string;
}

/** What a set is drawn of. */
export interface SetPlan {
  readonly plan: LocalPlan;
  /** Null where there is no ground. */
  readonly survey: Survey | null;
}

/** A page of the set as it is shown. */
export interface SetPage {
  readonly name: string;
  readonly title: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly svg: string;
  /** What it lacks and why. */
  readonly missing: readonly string[];
}

/** Draws the set, and keeps the last one for whoever wants it as PDF. */
export class SetDrawer {
  #last: Sheet | null = null;

  async draw(
    { plan, survey }: SetPlan,
    { date, ...options }: SetOptions,
    onProgress: Progress,
  ): Promise<readonly SetPage[]> {
    const facts = await sheetFacts({
      plan,
      survey,
      ruleSet: ruleSetOf(plan.plan.lotfall),
      date,
      file: 'The plan',
      onProgress,
    });
    onProgress(0.85, 'Drawing the sheet');
    const fonts = await openedFonts();
    this.#last = makeSheet(facts, fonts, options);
    return this.#last.pages.map((page) => {
      const { name, title, widthMm, heightMm, missing } = page;
      return { name, title, widthMm, heightMm, missing, svg: pageSvg(page, fonts) };
    });
  }

  /** The set drawn last. */
  async pdf(): Promise<Uint8Array> {
    assert(this.#last !== null, 'a set is drawn before it is written');
    return sheetPdf(this.#last, await openedFonts());
  }

  /** A page of the set drawn last, as a file of its own. */
  async svg(page: number): Promise<string> {
    const found = this.#last?.pages.at(page);
    assert(found !== undefined, 'a page is drawn before it is written');
    return standAloneSvg(found, await openedFonts());
  }
}

import labelBoldUrl from '../../../lib/sheet/fonts/barlow-semi-condensed-600.ttf?url';
import labelUrl from '../../../lib/sheet/fonts/barlow-semi-condensed-500.ttf?url';
import textBoldUrl from '../../../lib/sheet/fonts/source-sans-3-600.ttf?url';
import textUrl from '../../../lib/sheet/fonts/source-sans-3-400.ttf?url';
import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { assert, InputError, type Progress } from '../../../lib/errors';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import { Fonts } from '../../../lib/sheet/drawing/fonts';
import type { Sheet } from '../../../lib/sheet/drawing/mark';
import { sheetFacts } from '../../../lib/sheet/facts/sheet-facts';
import { makeSheet, type SheetOptions } from '../../../lib/sheet/make-sheet';
import { sheetPdf } from '../../../lib/sheet/write/pdf';
import { standAloneSvg } from '../../../lib/sheet/write/stand-alone';
import { pageSvg } from '../../../lib/sheet/write/svg';

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
  #fonts: Promise<Fonts> | null = null;
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
    const fonts = await this.#opened();
    this.#last = makeSheet(facts, fonts, options);
    return this.#last.pages.map((page) => {
      const { name, title, widthMm, heightMm, missing } = page;
      return { name, title, widthMm, heightMm, missing, svg: pageSvg(page, fonts) };
    });
  }

  /** The set drawn last. */
  async pdf(): Promise<Uint8Array> {
    assert(this.#last !== null, 'a set is drawn before it is written');
    return sheetPdf(this.#last, await this.#opened());
  }

  /** A page of the set drawn last, as a file of its own. */
  async svg(page: number): Promise<string> {
    const found = this.#last?.pages.at(page);
    assert(found !== undefined, 'a page is drawn before it is written');
    return standAloneSvg(found, await this.#opened());
  }

  #opened(): Promise<Fonts> {
    // One that could not be fetched is tried again.
    this.#fonts ??= openFonts().catch((error: unknown) => {
      this.#fonts = null;
      throw error;
    });
    return this.#fonts;
  }
}

async function openFonts(): Promise<Fonts> {
  const [text, textBold, label, labelBold] = await Promise.all(
    [textUrl, textBoldUrl, labelUrl, labelBoldUrl].map(fetched),
  );
  return new Fonts({ text, 'text-bold': textBold, label, 'label-bold': labelBold });
}

async function fetched(url: string): Promise<Uint8Array> {
  const answer = await fetch(url).catch(() => null);
  if (answer?.ok !== true) {
    throw new InputError({
      code: 'fonts-missing',
      where: 'the sheet',
      problem: 'its fonts could not be fetched',
      remedy: 'check the network and try again',
    });
  }
  return new Uint8Array(await answer.arrayBuffer());
}

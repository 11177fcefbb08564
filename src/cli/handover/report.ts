import { extname } from 'node:path';
import { makeSheet, sheetKinds, type SheetKind } from '../../../lib/sheet/make-sheet';
import { sheetFacts } from '../../../lib/sheet/facts/sheet-facts';
import type { Fonts } from '../../../lib/sheet/drawing/fonts';
import type { Sheet, SheetPage } from '../../../lib/sheet/drawing/mark';
import {
  paperNames,
  papers,
  type Orientation,
  type PaperName,
} from '../../../lib/sheet/paper/paper';
import { readScale } from '../../../lib/sheet/paper/scale';
import { sheetPdf } from '../../../lib/sheet/write/pdf';
import { sheetHtml, standAloneSvg } from '../../../lib/sheet/write/stand-alone';
import { onGround, rulesOf } from '../reading/checked-plan';
import type { Call, Command } from '../command';
import { dayOf } from '../reading/day';
import {
  elevationHelp,
  elevationOf,
  elevationOptions,
  rainHelp,
  rainOption,
  withRain,
} from '../reading/inputs';
import { jobOf } from '../reading/job';
import { noteLines, sentences } from '../notes';
import { sheetFonts } from '../writing/sheet-fonts';
import { usage } from '../usage';

/** What of the job may be said in the call; the rest is the plan's. */
const jobOptions = {
  dig: { type: 'string' },
  days: { type: 'string' },
  notice: { type: 'string' },
  prices: { type: 'string' },
  quotes: { type: 'string' },
  region: { type: 'string' },
  plants: { type: 'string' },
  people: { type: 'string' },
} as const;

/** `lotfall report`: the drawing set of a plan. */
export const report: Command = {
  name: 'report',
  summary: 'the drawing set: plan, water, garden, setting out, quantities, rules, cautions',
  help: `Usage: lotfall report <plan.geojson> [--elevation <file.tif|https://…>] --out sheet.pdf

${elevationHelp}
${rainHelp}
  --paper <name>                        ${paperNames.join(', ')}; when not given a3, or tabloid for a plan in feet
  --orientation <landscape|portrait>    how the paper lies; when not given landscape
  --scale <1:200>                       of the site plan, also as 1in=20ft; when not given the largest round one that fits
  --date <date>                         day that the sheet is of and locates are judged on, as 2026-05-01; else today
  --rules <id|set.json>                 a rule set by its id or a file; else the plan's choice
  --dig <date>, --days <number>         first day of digging and how many, for the dates; with --notice, as 'lotfall dates'
  --notice <span>                       what the notice service asks for before digging
  --prices <file.csv>, --quotes <…>     price list and quotes, as 'lotfall order'
  --region <name>, --plants <file.csv>  plants of a starter list, or your own, as 'lotfall plants'
  --people <number>                     who dig, as 'lotfall work'
  --of <set|line>                       the whole set, or water at the line of the lot for those beyond it, a builder, a board
  --page <name|number>                  for .svg: which page; the first when not given
  --out <file>                          .pdf, .html (one file without outside parts) or .svg (one page)

What the plan itself says of the job (lotfall.job) need not be given. The same plan, elevation and date give the same bytes. What a plan lacks (a lot, a basin, elevation) is said on the page
that it belongs to, and the rest is drawn. Figures are estimates for planning; local code governs.`,
  options: {
    ...elevationOptions,
    ...rainOption,
    paper: { type: 'string' },
    orientation: { type: 'string' },
    scale: { type: 'string' },
    date: { type: 'string' },
    rules: { type: 'string' },
    page: { type: 'string' },
    of: { type: 'string' },
    ...jobOptions,
  },
  forms: ['.pdf', '.html', '.svg'],
  async run(call) {
    const [path, ...more] = call.words;
    if (path === undefined)
      throw usage('no plan is named', 'give the path of a plan (*.plan.geojson)');
    if (more.length > 0) throw usage(`'${more[0]}' is one file too many`, 'give one plan');
    const wanted = wantedOf(call);
    const date = dayOf(call, 'date');
    const given = {
      call,
      today: date,
      rules: await rulesOf(call),
      elevation: await elevationOf(call),
    };
    const { plan, file, local, ruleSet, survey, notes } = await onGround(given, path, (each) =>
      withRain(each, call.option('rain')),
    );
    const facts = await sheetFacts({
      job: await jobOf(call, plan),
      plan: local,
      survey,
      ruleSet,
      date,
      file,
      notes,
      onProgress: call.onProgress,
    });
    const fonts = await sheetFonts();
    call.onProgress(0.8, 'Drawing the sheet');
    const sheet = makeSheet(facts, fonts, {
      ...wanted,
      paper: wanted.paper ?? (plan.lotfall.units === 'us' ? 'tabloid' : 'a3'),
    });
    return {
      text: sheetWords(sheet, sentences(facts.notes, strangeSigns(fonts))),
      json: {
        title: sheet.title,
        date,
        pages: sheet.pages.map(({ name, title, widthMm, heightMm, missing }) => ({
          name,
          title,
          width_mm: widthMm,
          height_mm: heightMm,
          missing,
        })),
        notes: facts.notes,
      },
      files: await formOf(call, sheet, fonts),
      alsoText: true,
    };
  },
};

interface Wanted {
  readonly sheet: SheetKind;
  readonly paper: PaperName | undefined;
  readonly orientation: Orientation;
  readonly scale?: number;
}

function wantedOf(call: Call): Wanted {
  const paper = call.option('paper')?.toLowerCase();
  const known = paperNames.find((name) => name === paper);
  if (paper !== undefined && known === undefined) {
    throw usage(`there is no paper '${paper}' to draw on`, `use one of ${paperNames.join(', ')}`);
  }
  const orientation = call.option('orientation') ?? 'landscape';
  if (orientation !== 'landscape' && orientation !== 'portrait') {
    throw usage(`'${orientation}' is no way for a paper to lie`, 'use landscape or portrait');
  }
  const of = call.option('of') ?? 'set';
  const sheet = sheetKinds.find((kind) => kind === of);
  if (sheet === undefined) throw usage(`there is no sheet of '${of}'`, 'use set or line');
  const asked = call.option('scale');
  if (asked === undefined) return { sheet, paper: known, orientation };
  const scale = readScale(asked);
  if (scale === null) throw usage(`'${asked}' is no scale`, 'write it as 1:100, or 1in=10ft');
  return { sheet, paper: known, orientation, scale };
}

/** The form that the file's ending asks for; the others are not made. */
async function formOf(
  call: Call,
  sheet: Sheet,
  fonts: Fonts,
): Promise<Record<string, string | Uint8Array>> {
  switch (extname(call.option('out') ?? '').toLowerCase()) {
    case '.pdf':
      return { '.pdf': await sheetPdf(sheet, fonts) };
    case '.html':
      return { '.html': sheetHtml(sheet, fonts) };
    case '.svg':
      return { '.svg': standAloneSvg(pageAsked(call, sheet.pages), fonts) };
    default:
      return {};
  }
}

function pageAsked(call: Call, pages: readonly SheetPage[]): SheetPage {
  const asked = call.option('page') ?? '1';
  const found = pages.find(({ name }, i) => name === asked || String(i + 1) === asked);
  if (found !== undefined) return found;
  throw usage(
    `there is no page '${asked}' in the sheet`,
    `use 1 to ${pages.length}, or ${pages.map(({ name }) => name).join(', ')}`,
  );
}

function sheetWords({ title, date, pages }: Sheet, notes: readonly string[]): string {
  const [{ widthMm, heightMm }] = pages;
  const paper = Object.values(papers).find((each) => each.widthMm === Math.min(widthMm, heightMm));
  const lines = pages.flatMap((page, i) => [
    `${String(i + 1).padStart(2)}  ${page.title}`,
    ...page.missing.map((lack) => `    lacks: ${lack}`),
  ]);
  return [
    `${title}, ${date}: ${pages.length} page${pages.length === 1 ? '' : 's'} of ${paper?.words ?? ''} (${widthMm} by ${heightMm} mm)`,
    lines.join('\n'),
    ...(notes.length > 0 ? [noteLines(notes)] : []),
  ].join('\n\n');
}

function strangeSigns({ strange }: Fonts): string[] {
  if (strange.length === 0) return [];
  return [
    `The sheet’s fonts have no sign for ${strange.slice(0, 20).join(' ')}: a box stands for each, so write those names in Latin, Greek or Cyrillic letters too.`,
  ];
}

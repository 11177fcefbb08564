import { describe, expect, it } from 'vitest';
import { distanceM } from '../../../../lib/frame/shapes';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import type { Mark, Sheet, SheetPage, TextMark } from '../../../../lib/sheet/drawing/mark';
import { boxesMeet, type LetterBox } from '../../../../lib/sheet/lettering/lettering';
import { makeSheet, type SheetOptions } from '../../../../lib/sheet/make-sheet';
import { sheetPdf } from '../../../../lib/sheet/write/pdf';
import { sheetHtml } from '../../../../lib/sheet/write/stand-alone';
import { pageSvg } from '../../../../lib/sheet/write/svg';
import { demoFacts, demoPlan } from '../demo-facts';
import { testFonts } from '../sheet-fonts';

const fonts = testFonts();
const a3: SheetOptions = { paper: 'a3', orientation: 'landscape' };

const without = (plan: Plan, kinds: readonly string[]): Plan => ({
  ...plan,
  features: plan.features.filter(({ properties }) => !kinds.includes(properties.kind)),
});
const renamed = (plan: Plan, name: string): Plan => ({
  ...plan,
  features: plan.features.map(
    (feature): PlanFeature =>
      ({ ...feature, properties: { ...feature.properties, name } }) as PlanFeature,
  ),
});
const set = (plan: Plan, lotfall: Partial<Plan['lotfall']>): Plan => ({
  ...plan,
  lotfall: { ...plan.lotfall, ...lotfall },
});

/** All that a job can be told, as somebody types it. */
const told: Plan['lotfall']['job'] = {
  dig: '2027-05-08',
  notice: '3 business days',
  plant_region: 'upper-midwest',
  price_list: { name: 'own.csv', csv: 'item,sold as,size,unit,price\nmulch,bag,50,L,6.90\n' },
  people: 3,
};

/** A plan with water that somebody saw in the middle of its basin. */
function seen(plan: Plan): Plan {
  const basin = plan.features.find(({ properties }) => properties.kind === 'basin');
  if (basin?.geometry.type !== 'Polygon') throw new Error('the demo has a basin');
  const place: PlanFeature = {
    type: 'Feature',
    id: 'seen',
    geometry: { type: 'Point', coordinates: basin.geometry.coordinates[0][0] },
    properties: { kind: 'observation', name: 'Wet corner', depth_m: 0.1, on: '2026-04-02' },
  };
  return { ...plan, features: [...plan.features, place] };
}

/** Plans with and without this and that, on papers large and small. */
const tenPlans: readonly {
  readonly name: string;
  readonly plan: Plan;
  readonly onGround?: boolean;
  readonly options?: SheetOptions;
}[] = [
  { name: 'the demo', plan: demoPlan() },
  { name: 'on A4', plan: demoPlan(), options: { paper: 'a4', orientation: 'landscape' } },
  { name: 'on A4 upright', plan: demoPlan(), options: { paper: 'a4', orientation: 'portrait' } },
  { name: 'on Letter', plan: demoPlan(), options: { paper: 'letter', orientation: 'portrait' } },
  {
    name: 'in feet',
    plan: set(demoPlan(), { units: 'us' }),
    options: { paper: 'tabloid', orientation: 'landscape' },
  },
  { name: 'without a garden', plan: without(demoPlan(), ['basin']) },
  { name: 'without a lot', plan: without(demoPlan(), ['lot']) },
  { name: 'without elevation', plan: demoPlan(), onGround: false },
  { name: 'names of 300 letters', plan: renamed(demoPlan(), 'Long '.repeat(60)) },
  {
    name: 'with all that is said of the job',
    plan: set(demoPlan(), { job: told }),
    options: { paper: 'a4', orientation: 'portrait' },
  },
  {
    name: 'water at the line',
    plan: seen(demoPlan()),
    options: { ...a3, sheet: 'line' },
  },
  { name: 'names in other scripts', plan: renamed(demoPlan(), 'Žluťoučký сад 雨庭 <b>&') },
];

async function drawn({ plan, onGround, options = a3 }: (typeof tenPlans)[number]): Promise<Sheet> {
  return makeSheet(await demoFacts(plan, onGround ?? true), fonts, options);
}

const flat = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) => (mark.kind === 'clipped' ? flat(mark.marks) : [mark]));
const textsOf = ({ marks }: SheetPage): TextMark[] =>
  flat(marks).filter((mark) => mark.kind === 'text');

/** The room that letters take: from the top of capitals to the base line, a hair less, so that lines of a paragraph are apart. */
function boxOf({ at, widthMm, sizeMm, align, turnDeg }: TextMark): LetterBox {
  const start = align === 'start' ? 0 : align === 'middle' ? -widthMm / 2 : -widthMm;
  const turn = (turnDeg * Math.PI) / 180;
  const [right, up] = [start + widthMm / 2, sizeMm * 0.34];
  return {
    centre: [
      at[0] + right * Math.cos(turn) + up * Math.sin(turn),
      at[1] + right * Math.sin(turn) - up * Math.cos(turn),
    ],
    halfWidthMm: Math.max(0, widthMm / 2 - 0.05),
    halfHeightMm: sizeMm * 0.3,
    turnDeg,
  };
}

function collisions(page: SheetPage): string[] {
  const texts = textsOf(page).filter(({ text }) => text.trim() !== '');
  const boxes = texts.map(boxOf);
  return texts.flatMap(({ text }, i) =>
    texts
      .slice(i + 1)
      .flatMap((other, k) =>
        boxesMeet(boxes[i], boxes[i + 1 + k])
          ? [`${page.name}: '${text}' and '${other.text}'`]
          : [],
      ),
  );
}

describe('ten plans', () => {
  for (const each of tenPlans) {
    it(`${each.name}: no letters lie on others, and none off the paper`, async () => {
      const sheet = await drawn(each);
      expect(sheet.pages.flatMap(collisions)).toEqual([]);
      for (const page of sheet.pages) {
        for (const mark of textsOf(page)) {
          const { centre, halfWidthMm, turnDeg } = boxOf(mark);
          const reach = Math.abs(Math.cos((turnDeg * Math.PI) / 180)) * halfWidthMm;
          expect(centre[0] - reach, `${page.name}: ${mark.text}`).toBeGreaterThan(0);
          expect(centre[0] + reach, `${page.name}: ${mark.text}`).toBeLessThan(page.widthMm);
        }
      }
    });
  }

  it('say what they lack, and draw the rest', async () => {
    const lacks = async (i: number): Promise<string> =>
      (await drawn(tenPlans[i])).pages.flatMap(({ missing }) => missing).join(' ');
    expect(await lacks(0)).toMatch(/^No plants are named.*No price list.*No day of digging/);
    expect(await lacks(5)).toMatch(/no garden/);
    expect(await lacks(6)).toMatch(/no lot line.*no ledger/);
    expect(await lacks(7)).toMatch(/no elevation.*no levels.*no heights/);
  });
});

describe('the pages of the job', () => {
  const wordsOf = (sheet: Sheet): string =>
    sheet.pages.flatMap((page) => textsOf(page).map(({ text }) => text)).join(' ');
  const planNamed = (name: string) => {
    const found = tenPlans.find((each) => each.name === name);
    if (found === undefined) throw new Error(name);
    return found;
  };

  it('have order, days, steps with their cautions and plants, and lack nothing', async () => {
    const sheet = await drawn(planNamed('with all that is said of the job'));
    const words = wordsOf(sheet);
    expect(words).toMatch(/6\.90/);
    expect(words).toMatch(/Tue 4 May 2027/);
    expect(words).toMatch(/Caution: No marks do not/);
    expect(words).toMatch(/Iris versicolor/);
    expect(sheet.pages.flatMap(({ missing }) => missing)).toEqual([]);
  });

  it('tell a neighbour what was seen and what to ask whom, and judge nobody', async () => {
    const sheet = await drawn(planNamed('water at the line'));
    const words = wordsOf(sheet);
    expect(sheet.pages.map(({ name }) => name)).toEqual(['line', 'water']);
    expect(words).toMatch(/2026-04-02 Wet corner/);
    expect(words).toMatch(/nothing of who has to answer for what/);
    expect(words).toMatch(/out to Marl Hollow 14/);
    expect(words).not.toMatch(/liable|at fault/);
  });
});

describe('the site plan', () => {
  it('lays the relief under everything, the only picture of the set', async () => {
    const { pages } = await drawn(tenPlans[0]);
    const pictures = pages.flatMap(({ marks }) =>
      flat(marks).filter((mark) => mark.kind === 'picture'),
    );
    expect(pictures).toHaveLength(1);
    const [{ png, rect }] = pictures;
    // Two dots on a millimetre, by the head of the file.
    const head = new DataView(png.buffer, png.byteOffset);
    expect(head.getUint32(16)).toBe(Math.round(rect.width * 2));
    expect(head.getUint32(20)).toBe(Math.round(rect.height * 2));
  });

  it('is true to scale: the lot’s sides are as long as its scale says', async () => {
    const facts = await demoFacts();
    const [page] = makeSheet(facts, fonts, { ...a3, scale: 250 }).pages;
    const ring = facts.lot?.shape.rings[0] ?? [];
    const corners = flat(page.marks).filter(
      (mark) => mark.kind === 'circles' && mark.centres.length === ring.length,
    );
    const isTrue = corners.some(
      (mark) =>
        mark.kind === 'circles' &&
        ring.every((from, i) => {
          const k = (i + 1) % ring.length;
          const onPaper = distanceM(mark.centres[i], mark.centres[k]);
          return Math.abs(onPaper - (1000 * distanceM(from, ring[k])) / 250) < 1e-6;
        }),
    );
    expect(isTrue).toBe(true);
  });

  it('refuses a scale that does not fit, and says which does', async () => {
    const facts = await demoFacts();
    expect(() => makeSheet(facts, fonts, { ...a3, scale: 100 })).toThrow(
      /at 1:100 the lot takes 521 by 451 mm, and A3 landscape has .*; take 1:250, which fits/,
    );
  });
});

describe('the writers', () => {
  it('give the same bytes twice, of 2 MB at most', async () => {
    const sheet = await drawn(tenPlans[0]);
    const [first, again] = [await sheetPdf(sheet, fonts), await sheetPdf(sheet, testFonts())];
    expect(first).toEqual(again);
    expect(first.length).toBeLessThan(2_000_000);
  });

  it('keep markup in names from becoming elements', async () => {
    const sheet = await drawn(tenPlans[tenPlans.length - 1]);
    for (const page of sheet.pages) expect(pageSvg(page, fonts)).not.toContain('<b>');
    const html = sheetHtml(sheet, fonts);
    expect(html).not.toContain('<b>');
    expect(html).not.toMatch(/(?:src|href)="(?!data:)/);
    expect(html).not.toMatch(/url\((?!data:|#)/);
  });
});

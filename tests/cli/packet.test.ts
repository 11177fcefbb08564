import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { SinceLast } from '../../lib/setback/submission/since-last';
import type { SetbackFindings } from '../../lib/setback/judge/setback-result';
import { demoPlan, featureOf, oddPlan, readDemoPlan, save, tempFolder } from './inputs';
import { documentOf, expectRefused, lotfall, lotfalls, numbersIn } from './run-lotfall';

const at = tempFolder();
const call = ['setbacks', demoPlan, '--on', '2026-11-25'];
const said = ['--applicant', 'A. Gardener', '--parcel', '12-34/5', '--revision', 'B'];

/** The words of a PDF as poppler reads them, where the machine has it; else `null`. */
function pdfWords(file: string): string | null {
  try {
    return execFileSync('pdftotext', ['-enc', 'UTF-8', '-layout', file, '-'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/** The words of an HTML packet, line by line as they were set. */
function htmlWords(file: string): string {
  const text = readFileSync(file, 'utf8');
  return [...text.matchAll(/<text[^>]*>([^<]*)<\/text>/g)]
    .map(([, words]) => words)
    .join('\n')
    .replaceAll('&amp;', '&');
}

describe('the packet of a plan', () => {
  it('says who hands in what, rule by rule, what must be settled, and leaves room for the reviewer', async () => {
    const [pdf, html, json] = await lotfalls(
      [...call, ...said, '--out', at('a.pdf')],
      [...call, ...said, '--out', at('a.html')],
      [...call, '--json'],
    );
    expect([pdf.status, html.status]).toEqual([0, 0]);
    const found = documentOf(json) as SetbackFindings;
    const words = [htmlWords(at('a.html'))];
    const poppler = pdfWords(at('a.pdf'));
    if (poppler === null) console.log('without pdftotext the PDF is not read');
    else words.push(poppler);
    for (const text of words) {
      for (const part of ['A. Gardener', '12-34/5', 'Common handbook setbacks', '2026-11-25'])
        expect(text).toContain(part);
      expect(text).toMatch(/Something binding could not be judged/);
      expect(text).toMatch(/Before issue: ask the public notice service about electric/);
      expect(text).toMatch(/date and signature/);
      expect(text).toMatch(/SHA-256/);
      expect(text).toMatch(/asked for 3\.05 m · measured 7\.60 m · margin 4\.56 m · must/);
      expect(text).toContain('Measured from the rim of the basin to the outline drawn.');
      expect(text).not.toMatch(/undefined|NaN|\bnull\b/);
      // Every rule at every thing has its place.
      const entries = text.match(/Measured from /g) ?? [];
      expect(entries).toHaveLength(
        found.results.filter(({ measured_from }) => measured_from !== null).length,
      );
    }
    // A sketch for every measured line.
    const clips = readFileSync(at('a.html'), 'utf8').match(/<clipPath/g) ?? [];
    expect(clips).toHaveLength(found.results.filter(({ nearest }) => nearest !== null).length);
  });

  it('is the same bytes twice, and leaves room where nobody said who hands it in', async () => {
    await lotfall(...call, '--out', at('b.pdf'));
    await lotfall(...call, '--out', at('c.pdf'));
    expect(readFileSync(at('b.pdf')).equals(readFileSync(at('c.pdf')))).toBe(true);
    await lotfall(...call, '--out', at('b.html'));
    expect(htmlWords(at('b.html'))).toMatch(/applicant\n_{20,}/);
  });

  it('takes applicant and parcel of the plan, names in any script, and a plan without a basin', async () => {
    const plan = readDemoPlan();
    plan.lotfall['submission'] = { applicant: 'Ω. Гончар', parcel: 'x'.repeat(300) };
    plan.lotfall['revisions'] = [{ mark: 'C', on: '2026-11-01', what: 'basin moved' }];
    featureOf(plan, 'house').properties['name'] = 'H'.repeat(300);
    await lotfall('setbacks', save(at('named.geojson'), plan), '--out', at('named.html'));
    const words = htmlWords(at('named.html'));
    expect(words).toContain('Ω. Гончар');
    expect(words).toContain('C, 2026-11-01, basin moved');
    plan.features = plan.features.filter(({ properties }) => properties['kind'] !== 'basin');
    const bare = await lotfall(
      'setbacks',
      save(at('bare.geojson'), plan),
      '--out',
      at('bare.html'),
    );
    expect(bare.status).toBe(0);
    expect(htmlWords(at('bare.html'))).toContain('The plan has no basin.');
  });

  it('is written for each of several plans, and a broken one keeps none from it', async () => {
    mkdirSync(at('one'));
    const same = save(at('one/lot.plan.geojson'), readDemoPlan());
    const run = await lotfall(
      ...['setbacks', demoPlan, oddPlan('bad-json.geojson'), same, '--on', '2026-11-25'],
      ...['--packets', at('packets')],
    );
    expect(run.status).toBe(2);
    expect(readdirSync(at('packets')).sort()).toEqual(['lot-2.packet.pdf', 'lot.packet.pdf']);
  });

  it('is refused for several plans in one file, and in a folder that cannot be', async () => {
    writeFileSync(at('taken'), '');
    const [many, folder, paper] = await lotfalls(
      ['setbacks', demoPlan, demoPlan, '--out', at('x.pdf')],
      [...call, '--packets', at('taken')],
      [...call, '--out', at('x.pdf'), '--paper', 'a9'],
    );
    expectRefused(many, "'x.pdf' would hold several packets", '--packets');
    expectRefused(folder, 'taken', 'packets cannot be written');
    expectRefused(paper, "no paper 'a9'", 'a4');
    expect(existsSync(at('x.pdf'))).toBe(false);
  });
});

describe('beside the submission before', () => {
  it('says what moved and which results changed, in words, as a document and in the packet', async () => {
    const plan = readDemoPlan();
    const basin = featureOf(plan, 'basin');
    const [ring] = basin.geometry.coordinates as [number, number][][];
    // About 6.2 m to the west.
    basin.geometry.coordinates = [ring.map(([lng, lat]) => [lng - 0.000075, lat])];
    plan.features = plan.features.filter(({ id }) => id !== 'well');
    const later = save(at('later.geojson'), plan);
    const beside = ['setbacks', later, '--since', demoPlan, '--on', '2026-11-25'];
    const [words, json] = await lotfalls(beside, [...beside, '--json', '--out', at('since.html')]);
    const { since } = documentOf(json) as { since: SinceLast };
    expect(json.status).toBe(1);
    expect(since.earlier.plan.file).toBe('lot.plan.geojson');
    expect(since.features.find(({ feature }) => feature === 'well')?.change).toBe('gone');
    const moved = since.features.find(({ feature }) => feature === 'basin');
    expect(moved).toMatchObject({ kept_shape: true });
    expect(moved?.moved_m).toBeCloseTo(6.16, 1);
    expect(moved?.bearing_deg).toBeCloseTo(270, 0);
    expect(since.results[0]).toMatchObject({ from: 'pass', to: 'fail', binding: 'must' });
    for (const [path, value] of numbersIn(since)) expect(value, path).toSatisfy(Number.isFinite);
    for (const text of [words.stdout, htmlWords(at('since.html')).replaceAll('\n', ' ')]) {
      expect(text).toMatch(/\(basin\): moved by 6\.\d\d\d? m to the west/);
      expect(text).toMatch(/Well \(well\) is gone\./);
      expect(text).toMatch(/Building foundation, House: ✓ meets \(7\.60 m\) → [✕✗] fails \(/);
    }
  });

  it('finds nothing where nothing changed, and is refused where it can be of no plan', async () => {
    const [same, many, broken] = await lotfalls(
      [...call, '--since', demoPlan],
      ['setbacks', demoPlan, demoPlan, '--since', demoPlan],
      [...call, '--since', oddPlan('bad-json.geojson')],
    );
    expect(same.stdout).toMatch(/Nothing of the plan has changed\.\n {2}No result has changed\./);
    expectRefused(many, 'the earlier plan of one plan only', '--since');
    expectRefused(broken, /bad-json\.geojson, line/);
  });
});

import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoElevation, demoPlan, tempFolder } from './inputs';
import { lotfall } from './run-lotfall';

const temp = tempFolder();
const prices = new URL('../../fixtures/demo/prices.csv', import.meta.url).pathname;
const demo = ['report', demoPlan, '--elevation', demoElevation, '--date', '2026-12-01'];

/** A program that looks at PDFs, where the machine has one; what it prints, else `null`. */
function looked(program: string, ...args: readonly string[]): string | null {
  try {
    return execFileSync(program, args, { encoding: 'latin1', stdio: ['ignore', 'pipe', 'ignore'] });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

describe('lotfall report', () => {
  const file = temp('sheet.pdf');

  it('writes a PDF of the paper asked for, its fonts embedded, and says what is on it', async () => {
    const { status, stdout } = await lotfall(
      ...demo,
      '--paper',
      'a3',
      '--scale',
      '1:250',
      '--out',
      file,
      ...['--prices', prices, '--region', 'upper-midwest'],
      ...['--dig', '2027-05-08', '--notice', '3 business days'],
    );
    expect(status).toBe(0);
    expect(stdout).toMatch(/13 pages of A3 \(420 by 297 mm\)/);
    expect(stdout).not.toMatch(/lacks/);
    expect(stdout).toMatch(/ 1 {2}Site plan\n 2 {2}Water before and after/);
    const text = readFileSync(file, 'latin1');
    expect(text.startsWith('%PDF-')).toBe(true);
    const boxes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
    expect(boxes).toHaveLength(13);
    for (const [, width, height] of boxes) {
      expect(Number(width) / 72).toBeCloseTo(420 / 25.4, 4);
      expect(Number(height) / 72).toBeCloseTo(297 / 25.4, 4);
    }
    expect(text.match(/\/FontFile2/g)).toHaveLength(4);
    expect(text).toMatch(/\(D:20261201000000Z\)/);
    // The relief is the only picture.
    expect(text.match(/\/Subtype \/Image/g)).toHaveLength(1);
  });

  it('as poppler reads it: size, fonts, text, and a scale true to 0.2 mm', () => {
    const info = looked('pdfinfo', file);
    if (info === null) {
      console.log('without pdfinfo the PDF is not looked at from outside');
      return;
    }
    expect(info).toMatch(/Page size: +1190\.55 x 841\.89 pts \(A3\)/);
    const fonts = looked('pdffonts', file)?.trim().split('\n').slice(2) ?? [];
    expect(fonts).toHaveLength(4);
    for (const font of fonts) expect(font).toMatch(/yes yes yes/);
    const words = looked('pdftotext', '-enc', 'UTF-8', file, '-');
    const told = Buffer.from(words ?? '', 'latin1').toString('utf8');
    expect(told).toMatch(/Marl Hollow 12/);
    // order, steps with their cautions, days and plants, as the other commands have them
    expect(told).toMatch(/16 × bulk 0\.5 m3/);
    expect(told).toMatch(/to have ready/);
    expect(told).toMatch(/Caution: No marks do not prove that there is no line/);
    expect(told).toMatch(/Tue 4 May 2027/);
    expect(told).toMatch(/Iris versicolor/);
    // 300 dots an inch; the neat line is 0.7 mm of ink 20 mm from the left edge.
    const picture = temp('page');
    looked('pdftoppm', '-r', '300', '-gray', '-f', '1', '-l', '1', '-singlefile', file, picture);
    const pgm = readFileSync(`${picture}.pgm`);
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.toString('latin1', 0, 40));
    const width = Number(head?.[1]);
    // Between the letters of the edge.
    const row = Math.floor(Number(head?.[2]) * 0.36);
    const isDark = (x: number): boolean => pgm[(head?.[0].length ?? 0) + row * width + x] < 100;
    const dots = Array.from({ length: width }, (_, x) => x);
    const heavy = dots.filter((x) => [x - 2, x - 1, x, x + 1, x + 2].every(isDark));
    // The neat line left and right, whose middles are 390 mm apart.
    const group = (edge: number): number => {
      const near = heavy.filter((x) => Math.abs(x - edge) < 12);
      return near.reduce((sum, x) => sum + x + 0.5, 0) / near.length / (300 / 25.4);
    };
    const [left, right] = [group(heavy.at(0) ?? 0), group(heavy.at(-1) ?? 0)];
    expect(Math.abs(left - 20)).toBeLessThan(0.2);
    expect(Math.abs(right - left - 390)).toBeLessThan(0.2);
  });

  it('writes one HTML file without outside parts, and one page as SVG', async () => {
    const html = temp('sheet.html');
    const svg = temp('sheet.svg');
    const { status, stdout } = await lotfall(...demo, '--out', html);
    expect(status).toBe(0);
    expect(stdout).toMatch(/lacks: No day of digging is given/);
    const text = readFileSync(html, 'utf8');
    expect(text.match(/<svg /g)).toHaveLength(Number(/: (\d+) pages/.exec(stdout)?.[1]));
    expect(text).not.toMatch(/<script|<link|src="http/);
    expect((await lotfall(...demo, '--page', 'setting-out', '--out', svg)).status).toBe(0);
    expect(readFileSync(svg, 'utf8')).toMatch(
      /^<svg .*viewBox="0 0 420 297".*aria-label="Setting out"/,
    );
  });

  it('refuses what it cannot draw, and says what it can', async () => {
    const faults = async (...args: string[]): Promise<string> => {
      const { status, stderr } = await lotfall('report', demoPlan, '--date', '2026-12-01', ...args);
      expect(status).toBe(2);
      return stderr;
    };
    expect(await faults('--scale', '1:100')).toMatch(/takes 521 by .*; take 1:250, which fits/);
    expect(await faults('--scale', 'large')).toMatch(/'large' is no scale; write it as 1:100/);
    expect(await faults('--paper', 'a0')).toMatch(
      /no paper 'a0'.*; use one of a4, a3, letter, tabloid/,
    );
    expect(await faults('--orientation', 'upside')).toMatch(/use landscape or portrait/);
    expect(await faults('--date', '2026-02-31')).toMatch(/--date '2026-02-31' is no date/);
    expect(await faults('--page', '99', '--out', temp('x.svg'))).toMatch(/no page '99'.*use 1 to/);
    expect(await faults('--out', temp('x.docx'))).toMatch(/\.pdf, \.html, \.svg/);
  });

  it('draws a plan without basin or lot, and says what is lacking', async () => {
    const plan = JSON.parse(readFileSync(demoPlan, 'utf8')) as {
      features: { properties: { kind: string } }[];
    };
    plan.features = plan.features.filter(
      ({ properties: { kind } }) => !['basin', 'lot'].includes(kind),
    );
    const bare = temp('bare.geojson');
    writeFileSync(bare, JSON.stringify(plan));
    const { status, stdout } = await lotfall(
      'report',
      bare,
      '--date',
      '2026-12-01',
      '--paper',
      'a4',
    );
    expect(status).toBe(0);
    expect(stdout).toMatch(/lacks: There is no lot line/);
    expect(stdout).toMatch(/lacks: There is no garden on the plan to be set out/);
  });
});

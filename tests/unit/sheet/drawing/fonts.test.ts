import { describe, expect, it } from 'vitest';
import { Board, letters } from '../../../../lib/sheet/drawing/board';
import { testFonts } from '../sheet-fonts';

describe('Fonts', () => {
  it('takes signs that labels lack from the text of the same weight', () => {
    const runs = testFonts().runs('✓ 3.5 m → Łódź', 'label-bold');
    expect(runs.map(({ face, text }) => [face, text])).toEqual([
      ['text-bold', '✓'],
      ['label-bold', ' 3.5 m '],
      ['text-bold', '→'],
      ['label-bold', ' Łódź'],
    ]);
  });

  it('draws a box for what no font has, and names it', () => {
    const fonts = testFonts();
    expect(fonts.runs('雨庭', 'text')).toMatchObject([{ face: 'text', text: '□□' }]);
    expect(fonts.strange).toEqual(['庭', '雨']);
  });

  it('measures as the fonts have it', () => {
    // The advance of H in Source Sans 3 is 652 of 1000.
    expect(testFonts().widthMm('HH', 'text', 10)).toBeCloseTo(13.04, 2);
  });
});

describe('Board', () => {
  const board = new Board(testFonts());

  it('breaks text to a width, cutting words of 300 letters', () => {
    const lines = board.wrapped(`a garden ${'x'.repeat(300)} by the house`, letters.body, 40);
    expect(lines.join('').replaceAll(' ', '')).toHaveLength(300 + 'agardenbythehouse'.length);
    for (const line of lines) expect(board.widthMm(line, letters.body)).toBeLessThanOrEqual(40);
  });

  it('ends what is too long in an ellipsis', () => {
    const cut = board.cut('The long name of a lot', letters.lot, 30);
    expect(cut).toMatch(/^The.*…$/);
    expect(board.widthMm(cut, letters.lot)).toBeLessThanOrEqual(30);
  });
});

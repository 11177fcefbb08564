import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Board, letters } from '../../../../lib/sheet/drawing/board';
import type { At } from '../../../../lib/sheet/drawing/mark';
import { boxesMeet, cornersOf, Lettering } from '../../../../lib/sheet/lettering/lettering';
import { alongSpots, aroundSpots, readable } from '../../../../lib/sheet/lettering/spots';
import { testFonts } from '../sheet-fonts';

const fonts = testFonts();
const frame = { x: 0, y: 0, width: 120, height: 90 };

describe('Lettering', () => {
  it('never lets two labels meet nor leave the frame, however crowded', () => {
    const place = fc.tuple(
      fc.double({ min: 0, max: 120, noNaN: true }),
      fc.double({ min: 0, max: 90, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(place, { maxLength: 60 }), (places) => {
        const board = new Board(fonts);
        const lettering = new Lettering(board, frame);
        for (const at of places) {
          const text = `label ${at[0].toFixed(1)}`;
          const half = board.widthMm(text, letters.label) / 2;
          lettering.place(
            [{ text, look: letters.label }],
            [
              ...alongSpots([at, [at[0] + 20, at[1] + 15]], { asideMm: 2 }),
              ...aroundSpots(at, half, { nearMm: 2 }),
            ],
          );
        }
        const boxes = lettering.taken;
        boxes.forEach((box, i) => {
          for (const other of boxes.slice(i + 1)) expect(boxesMeet(box, other)).toBe(false);
          for (const [x, y] of cornersOf(box)) {
            expect(x).toBeGreaterThanOrEqual(0);
            expect(x).toBeLessThanOrEqual(120);
            expect(y).toBeGreaterThanOrEqual(0);
            expect(y).toBeLessThanOrEqual(90);
          }
        });
        expect(boxes.length + lettering.leftOut.length).toBe(places.length);
      }),
      { numRuns: 30, seed: 7 },
    );
  });

  it('prefers a spot that crosses nothing to an earlier one that does', () => {
    const lettering = new Lettering(new Board(fonts), frame);
    lettering.avoid([
      [0, 20],
      [120, 20],
    ]);
    const spots: { centre: At }[] = [{ centre: [60, 20] }, { centre: [60, 40] }];
    lettering.place([{ text: 'house', look: letters.label }], spots);
    expect(lettering.taken[0].centre).toEqual([60, 40]);
  });

  it('tells of a label that finds no room, where it matters', () => {
    const lettering = new Lettering(new Board(fonts), frame);
    lettering.keep(frame);
    const label = [{ text: 'well', look: letters.label }];
    expect(lettering.place(label, [{ centre: [60, 40] }])).toBe(false);
    expect(lettering.place(label, [{ centre: [60, 40] }], false)).toBe(false);
    expect(lettering.leftOut).toEqual(['well']);
  });

  it('turns letters so that they are read from below or the right', () => {
    expect([0, 45, 90, 135, 180, 270, -45, -90].map(readable)).toEqual([
      0, 45, 90, -45, 0, 90, -45, 90,
    ]);
  });
});

import type { LocalPlan } from '../../plan/local-plan';
import type { XY } from '../../frame/frame';
import type { UnitSystem } from '../../units/units';
import { letters, type Board } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import type { At, Pen } from '../drawing/mark';
import { barLength } from '../paper/scale';

const pen: Pen = { ink: inks.ink, widthMm: pens.fine };

/** A bar whose parts are round lengths of the ground: it stays true on a copy that was enlarged. */
export function drawScaleBar(
  board: Board,
  [x, y]: At,
  ratio: number,
  units: UnitSystem,
  mostMm = 70,
): number {
  const { lengthM, parts, unitM, unit } = barLength(ratio, mostMm, units);
  const stepMm = (1000 * lengthM) / ratio / parts;
  for (let i = 0; i < parts; i++) {
    board.box(
      { x: x + i * stepMm, y, width: stepMm, height: 1.6 },
      { fill: i % 2 === 0 ? inks.ink : inks.paper, pen },
    );
  }
  for (let i = 0; i <= parts; i++) {
    const value = (lengthM * i) / parts / unitM;
    const words = `${Number(value.toFixed(3))}${i === parts ? ` ${unit}` : ''}`;
    board.text(words, [x + i * stepMm, y + 4.6], letters.small, { align: 'middle' });
  }
  return stepMm * parts;
}

/**
 * An arrow to true north; on a grid that is turned against it the arrow is turned too.
 *
 * @param turned - of the view, radians counter-clockwise.
 */
export function drawNorth(board: Board, [x, y]: At, plan: LocalPlan, at: XY, turned = 0): void {
  const [lng, lat] = plan.frame.toLngLat(at);
  const north = plan.frame.toLocal([lng, lat + 0.0005]);
  const turn = Math.atan2(north[0] - at[0], north[1] - at[1]) - turned;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const place = (right: number, up: number): At => [x + right * c + up * s, y - up * c + right * s];
  board.circles([[x, y]], 4, { fill: inks.paper, pen });
  board.area([[place(0, 6), place(-1.7, -3.2), place(0, -2)]], { fill: inks.ink });
  board.area([[place(0, 6), place(1.7, -3.2), place(0, -2)]], { pen });
  const [nx, ny] = place(0, 7.6);
  board.text('N', [nx, ny + 0.9], letters.head, { align: 'middle' });
}

/** Number, name and scale of a view, below it. */
export function drawViewTitle(
  board: Board,
  [x, y]: At,
  view: { readonly number: string; readonly name: string; readonly words: string },
): void {
  board.circles([[x + 4.5, y]], 4.5, { fill: inks.paper, pen: { ...pen, widthMm: pens.rule } });
  board.text(
    view.number,
    [x + 4.5, y + 1.4],
    { ...letters.figureBold, pt: 10 },
    { align: 'middle' },
  );
  board.text(view.name, [x + 11.5, y - 0.6], letters.title);
  const width = Math.max(
    board.widthMm(view.name, letters.title),
    board.widthMm(view.words, letters.small),
  );
  board.line(
    [
      [x + 9, y + 0.9],
      [x + 14 + width, y + 0.9],
    ],
    { ...pen, widthMm: pens.rule },
  );
  board.text(view.words, [x + 11.5, y + 4], letters.small);
}

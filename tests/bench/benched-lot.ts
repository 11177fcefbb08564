import type { CertaintyInput } from '../../lib/drainage/certainty/certainty';
import { errorsOf } from '../../lib/drainage/height-error/error-defaults';
import { box, frame, lineOf, planOf, polygonOf } from '../unit/ground/plane-lot';
import { fractalGround } from './fractal-ground';

/** A lot with two neighbours, a house, a basin, a wall and a swale on half-metre cells. */
export function benchedLot(side: number): CertaintyInput {
  // Nearly smooth: the error is still to come.
  const z = fractalGround(side, 3, 0.005);
  const cellM = 0.5;
  const edgeM = side * cellM;
  const at = edgeM * 0.4;
  const plan = planOf([
    polygonOf('own', box(at, at, at + 30, at + 45), { kind: 'lot', own: true }),
    polygonOf('east', box(at + 30, at, at + 60, at + 45), { kind: 'lot', own: false }),
    polygonOf('house', box(at + 8, at + 10, at + 20, at + 22), { kind: 'building' }),
    polygonOf('roof', box(at + 7.5, at + 9.5, at + 20.5, at + 22.5), { kind: 'roof' }),
    polygonOf('basin', box(at + 10, at + 30, at + 14, at + 34), { kind: 'basin' }),
    lineOf(
      'wall',
      [
        [at + 1, at + 1],
        [at + 1, at + 40],
      ],
      { kind: 'wall' },
    ),
    lineOf(
      'swale',
      [
        [at + 22, at + 2],
        [at + 22, at + 40],
      ],
      { kind: 'swale' },
    ),
  ]);
  const elevation = {
    width: side,
    height: side,
    cellM,
    westM: 0,
    northM: edgeM,
    z,
    datumM: 100,
    frame: frame.spec,
  };
  return { elevation, plan, rainMm: 50, errors: errorsOf(cellM), seed: 1 };
}

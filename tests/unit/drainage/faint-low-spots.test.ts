import { expect, it } from 'vitest';
import { faintness, fewestCells } from '../../../lib/drainage/answer/faint-low-spots';

it('holds low spots back that the heights cannot tell, or that are a few cells wide', () => {
  const cellM = 0.5;
  const cellM2 = cellM * cellM;
  expect(faintness({ doubtful: false, area_m2: 40 }, cellM)).toBeNull();
  expect(faintness({ doubtful: true, area_m2: 40 }, cellM)).toBe('shallow');
  expect(faintness({ doubtful: false, area_m2: (fewestCells - 1) * cellM2 }, cellM)).toBe('small');
  expect(faintness({ doubtful: false, area_m2: fewestCells * cellM2 }, cellM)).toBeNull();
});

import { describe, expect, it } from 'vitest';
import { lotCover } from '../../../../src/app/state/answers/lot-cover';
import { box, groundOf, planOf, polygonOf } from '../../ground/plane-lot';

const grid = groundOf(60, 60, 1, () => 3);
const cover = (west: number, east: number) =>
  lotCover(
    grid,
    planOf([polygonOf('own', box(west, 20, east, 40), { kind: 'lot', own: true })]).plan,
  );

describe('how much of the lot the ground reaches around', () => {
  it('is all, a part or nothing of it', () => {
    expect(cover(20, 40)).toBe('whole');
    expect(cover(50, 70)).toBe('part');
    expect(cover(70, 90)).toBe('none');
    expect(cover(-40, -20)).toBe('none');
  });

  it('is not known without anything drawn', () => {
    expect(lotCover(grid, planOf([]).plan)).toBeNull();
  });
});

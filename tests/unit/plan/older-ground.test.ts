import { describe, expect, it } from 'vitest';
import { ageNotes } from '../../../lib/plan/age-words';
import { olderGround } from '../../../lib/plan/older-ground';
import { isYearOrDay, type Plan, type PlanFeature } from '../../../lib/plan/schema';
import { relevelling, relevelWords } from '../../../lib/plan/relevel';
import { box, frame, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const house = (built?: string, more: object = {}): PlanFeature =>
  polygonOf('house', box(10, 10, 20, 15), {
    kind: 'building',
    ...(built === undefined ? {} : { built }),
    ...more,
  });

function older(features: readonly PlanFeature[], elevation: Plan['lotfall']['elevation']) {
  const { plan } = planOf([...features]);
  const found = olderGround({ ...plan, lotfall: { ...plan.lotfall, elevation } });
  return [found.newer.map(({ id }) => id), found.unsaid.map(({ id }) => id)];
}

describe('ground that is older than what stands on it', () => {
  it('is told to the year or the day, whichever is known less', () => {
    const measured = { measured: '2019-04-30' };
    expect(older([house('2018')], measured)).toEqual([[], []]);
    expect(older([house('2019')], measured)).toEqual([['house'], []]);
    expect(older([house('2019-04')], measured)).toEqual([['house'], []]);
    expect(older([house('2019-03')], measured)).toEqual([[], []]);
    expect(older([house('2019-04-29')], measured)).toEqual([[], []]);
    expect(older([house('2021')], { measured: '2019' })).toEqual([['house'], []]);
  });

  it('is asked about where nobody says, and not without a date of the heights', () => {
    expect(older([house()], { measured: '2019' })).toEqual([[], ['house']]);
    expect(older([house('2021')], {})).toEqual([[], []]);
    expect(older([house('2021')], { measured: '2019', of_levels: true })).toEqual([[], []]);
  });

  it('is none under what is only to come, what shows in the elevation, or what is not built', () => {
    const measured = { measured: '2019' };
    expect(older([house('2021', { state: 'proposed' })], measured)).toEqual([[], []]);
    const surface = (cover: string) =>
      polygonOf(cover, box(0, 0, 4, 4), { kind: 'surface', cover, built: '2021' });
    expect(older([surface('lawn'), surface('paving')], measured)).toEqual([['paving'], []]);
    const wall = { ...house('2021'), properties: { kind: 'swale', in_elevation: true } };
    expect(older([wall as unknown as PlanFeature], measured)).toEqual([[], []]);
  });

  it('takes years, months and days that there are', () => {
    for (const day of ['2019', '2019-12', '2020-02-29']) expect(isYearOrDay(day)).toBe(true);
    for (const none of ['19', '1700', '2019-13', '2019-02-29', 'spring 2019', 2019, '2019-1']) {
      expect(isYearOrDay(none)).toBe(false);
    }
  });
});

describe('what to level again', () => {
  it('is corners and the middle of long sides, counting the levels that lie there', () => {
    const near = pointOf('near', [9, 10], { kind: 'spot-height', elevation_m: 3 });
    const unread = pointOf('unread', [10, 9], { kind: 'spot-height' });
    const far = pointOf('far', [40, 40], { kind: 'spot-height', elevation_m: 3 });
    const { plan } = planOf([house(), near, unread, far]);
    const asked = relevelling(plan.features[0], plan, frame);
    expect(asked).toEqual({ corners: 4, middles: 2, inside: false, set: 1 });
    expect(relevelWords(asked, true)).toBe(
      '4 corners, the middle of 2 long sides: 6 readings; 1 is set',
    );
  });
});

describe('what is said of the age of heights', () => {
  const said = (features: readonly PlanFeature[], elevation: Plan['lotfall']['elevation']) => {
    const { plan } = planOf([...features], elevation === undefined ? {} : { elevation });
    return ageNotes(plan, frame, '2018-05-01').map(({ code, text }) => `${code}: ${text}`);
  };

  it('is that nobody says when they were measured, and by when the file was written', () => {
    expect(said([house()], undefined)).toEqual([
      expect.stringMatching(/^heights-undated: .*written on 2018-05-01.*elevation\.measured/),
    ]);
    expect(said([house()], { of_levels: true })).toEqual([]);
  });

  it('is what was built since, until it has been levelled again, and of what nobody says it', () => {
    const measured = { measured: '2017' };
    expect(said([house('2021')], measured)).toEqual([
      expect.stringMatching(
        /^heights-older: house, of 2021, is newer than the heights, of 2017.*Level again: 4 corners/,
      ),
    ]);
    const again = polygonOf('again', box(5, 5, 25, 20), { kind: 'relevelled-ground' });
    expect(said([house('2021'), again], measured)).toEqual([]);
    expect(said([house()], measured)).toEqual([
      expect.stringMatching(/^built-unsaid: Built since 2017\?.*house/),
    ]);
  });
});

import type { NotJudgedRemedy } from './remedies-result';

/** Remedies for water in the ground, which this computation knows nothing of: named, never ranked. */
export const notJudgedRemedies: readonly NotJudgedRemedy[] = [
  {
    remedy: 'French drain',
    does: 'takes up water that is in the ground along a gravel trench, and leads it to a lower exit, falling 1 % at least',
    does_not:
      'take run-off from the surface: clay sends that over it and sediment closes it; and it must not end on a neighbour, a walk or a drive',
    call: 'a drainage contractor, where the ground is sand or silt and stays wet between rains',
    source: {
      title: 'French drains; trade pages on what they do not do',
      publisher: 'a page of the National Association of Realtors; drainage contractors',
      year: null,
      mark: 'seen in a secondary copy',
    },
  },
  {
    remedy: 'curtain drain',
    does: 'catches water that seeps downhill in the ground before it comes to the house, in a trench about 2 ft deep uphill of it',
    does_not: 'catch what runs on the surface, or what rises from below',
    call: 'a drainage contractor, where a slope above the house seeps',
    source: {
      title: 'Curtain drains, a trade page',
      publisher: 'a waterproofing contractor’s page',
      year: null,
      mark: 'seen in a secondary copy',
    },
  },
  {
    remedy: 'footing drain',
    does: 'lowers water in the ground at the foot of the wall and leads it to a sump or to daylight',
    does_not: 'help while surface water stands at the wall: dry the surface first',
    call: 'a foundation or waterproofing contractor; an engineer where walls are cracked or bowed',
    source: {
      title: 'Foundation drainage',
      publisher: 'a journal for light construction',
      year: null,
      mark: 'seen',
    },
  },
  {
    remedy: 'damp-proofing',
    does: 'keeps what wets the wall from coming through it',
    does_not:
      'take any water away: it comes last, after the ground falls away and hollows are gone',
    call: 'a waterproofing contractor',
    source: {
      title: 'Wet basements, order of remedies',
      publisher: 'North Dakota State University extension, as quoted by others',
      year: null,
      mark: 'seen in a secondary copy',
    },
  },
  {
    remedy: 'window-well cover and rim',
    does: 'keeps roof water and run-off out of a well whose bottom lies 15 cm below the sill at least; the ground outside is graded first',
    does_not: 'drain a well that fills from below',
    call: 'nobody: a cover is bought to size and a rim raised by hand; the plan does not say where window wells are',
    source: {
      title: 'Basement flood reduction, option 19',
      publisher: 'a municipal programme’s page',
      year: null,
      mark: 'seen',
    },
  },
];

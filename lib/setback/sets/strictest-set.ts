import type { RuleSetInput } from '../rules/rule';
import { strictestOf } from '../rules/strictest-of';
import { commonSetbacks } from './common-setbacks';
import { englandSet } from './england-set';
import { lakeheadSet } from './lakehead-set';
import { minnesotaSet } from './minnesota-set';
import { mississaugaSet } from './mississauga-set';
import { newJerseySet } from './new-jersey-set';
import { drainDown, notUphillOfBasement, overflowOntoNobody, utility } from './shared-rules';
import { minnesota } from './sources';
import { localGoverns } from '../rules/rule';
import { westernWashingtonSet } from './western-washington-set';

/** Published figures that ask more than the sets do of a place, and rules that are meant to bind here. */
const beside: RuleSetInput['rules'] = [
  {
    ...notUphillOfBasement,
    id: 'uphill-of-building',
    title: 'Not uphill of a building',
    from: [{ kind: 'building' }],
    published: 'never uphill of the house (looked at within 100 ft)',
    source: {
      title: 'Rain garden slides',
      publisher: 'Geauga Soil and Water Conservation District, Ohio',
      year: null,
      mark: 'seen',
    },
  },
  {
    test: 'distance',
    id: 'well',
    letter: 'W',
    title: 'Well',
    from: [{ kind: 'well' }],
    distance: { by: 'constant', m: 30.48 },
    published: '100 ft',
    binding: 'must',
    source: { ...minnesota, section: 'Setbacks, earlier table' },
  },
  {
    test: 'distance',
    id: 'tree',
    letter: 'T',
    title: 'Tree roots and canopy',
    from: [{ kind: 'tree' }],
    distance: {
      by: 'trunk',
      per_diameter: 18,
      or_canopy: true,
      at_least_m: 3,
    },
    published: '1.5 ft for each inch of trunk diameter, or the canopy where larger, or 3 m',
    binding: 'must',
    source: {
      title: 'Tree protection page',
      publisher: 'City of Edina, Minnesota',
      year: null,
      mark: 'seen',
    },
    note: 'The 3 m is the distance of the City of Mississauga.',
  },
  {
    ...utility,
    tolerance_m: 0.6096,
    published: '24 in each side, plus the line',
    source: {
      title: 'Tolerance zone',
      publisher: 'New York notice centre',
      year: null,
      mark: 'seen',
    },
  },
  { ...drainDown, binding: 'must' },
  { ...overflowOntoNobody, binding: 'must' },
];

export const strictestSet: RuleSetInput = {
  id: 'strictest',
  title: 'Strictest of the published figures',
  jurisdiction:
    'No place in particular: for each subject the largest figure of the sets here and of rows beside them',
  note: localGoverns,
  rules: strictestOf(
    [
      commonSetbacks,
      minnesotaSet,
      westernWashingtonSet,
      newJerseySet,
      mississaugaSet,
      lakeheadSet,
      englandSet,
    ],
    beside,
  ),
};

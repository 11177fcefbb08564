import { localGoverns, type RuleSetInput } from '../rules/rule';
import { strictestOf } from '../rules/strictest-of';
import { englandSet } from './england-set';
import { publishedSets } from './published-sets';
import {
  drainDown,
  metres,
  notUphillOfBasement,
  overflowOntoNobody,
  tree,
  utility,
  well,
} from './shared-rules';
import { geauga, minnesota } from './sources';

/** Published figures that ask more than the sets do of a place, and rules that are meant to bind here. */
const beside: RuleSetInput['rules'] = [
  {
    ...notUphillOfBasement,
    id: 'uphill-of-building',
    title: 'Not uphill of a building',
    from: [{ kind: 'building' }],
    published: 'never uphill of the house (looked at within 100 ft)',
    source: geauga,
  },
  {
    ...well,
    distance: metres(30.48),
    published: '100 ft',
    source: { ...minnesota, section: 'Setbacks, earlier table' },
  },
  {
    ...tree,
    distance: { by: 'trunk', per_diameter: 18, or_canopy: true, at_least_m: 3 },
    published: '1.5 ft for each inch of trunk diameter, or the canopy where larger, or 3 m',
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
  rules: strictestOf(publishedSets, beside),
  lot_rules: englandSet.lot_rules,
};

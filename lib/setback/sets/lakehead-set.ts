import type { RuleSetInput } from '../rules/rule';
import { notOverBuilt, notOverEasement, notOverWater, utility } from './shared-rules';
import { lakehead } from './sources';
import { localGoverns } from '../rules/rule';
import { practice } from '../../source';

export const lakeheadSet: RuleSetInput = {
  id: 'lakehead',
  title: 'Lakehead Region rain garden guidance',
  jurisdiction: 'Lakehead Region, Ontario (conservation authority)',
  note: localGoverns,
  rules: [
    {
      test: 'distance',
      id: 'foundation',
      letter: 'F',
      title: 'Building foundation',
      from: [{ kind: 'building' }],
      distance: { by: 'constant', m: 3 },
      published: 'more than 3 m',
      binding: 'must',
      source: lakehead,
    },
    {
      test: 'distance',
      id: 'downspout',
      letter: 'DS',
      title: 'Downspout',
      from: [{ kind: 'downspout' }],
      distance: { by: 'constant', m: 9 },
      published: 'more than 9 m',
      binding: 'must',
      source: lakehead,
    },
    {
      test: 'distance',
      id: 'septic',
      letter: 'S',
      title: 'Not over a septic system',
      from: [{ kind: 'septic-tank' }, { kind: 'septic-field' }],
      distance: { by: 'not-over' },
      published: 'not over it',
      binding: 'must',
      source: lakehead,
    },
    {
      test: 'inside-lot',
      id: 'lot-line',
      letter: 'L',
      title: 'Inside the lot',
      m: 0,
      published: 'no distance published',
      binding: 'must',
      source: practice,
    },
    utility,
    notOverEasement,
    notOverWater,
    notOverBuilt,
  ],
};

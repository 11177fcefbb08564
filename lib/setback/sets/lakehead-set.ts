import { localGoverns, type RuleSetInput } from '../rules/rule';
import { everywhere, building, insideLot, metres, septic } from './shared-rules';
import { lakehead } from './sources';

export const lakeheadSet: RuleSetInput = {
  id: 'lakehead',
  title: 'Lakehead Region rain garden guidance',
  jurisdiction: 'Lakehead Region, Ontario (conservation authority)',
  note: localGoverns,
  rules: [
    { ...building, distance: metres(3), published: 'more than 3 m', source: lakehead },
    {
      test: 'distance',
      id: 'downspout',
      letter: 'DS',
      title: 'Downspout',
      from: [{ kind: 'downspout' }],
      distance: metres(9),
      published: 'more than 9 m',
      binding: 'must',
      source: lakehead,
    },
    {
      ...septic,
      title: 'Not over a septic system',
      distance: { by: 'not-over' },
      published: 'not over it',
      source: lakehead,
    },
    insideLot,
    ...everywhere,
  ],
};

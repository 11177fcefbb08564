import { localGoverns, type RuleSetInput } from '../rules/rule';
import { everywhere, building, lotLine, metres, waterTable } from './shared-rules';
import { commonLotRules, soakawayRules } from './lot-rules';
import { buckinghamshire } from './sources';

export const englandSet: RuleSetInput = {
  id: 'england',
  title: 'English council standard for shallow soakaways',
  jurisdiction: 'Buckinghamshire, England (council standard)',
  note: localGoverns,
  rules: [
    {
      ...building,
      distance: metres(5),
      published: '5 m',
      source: buckinghamshire,
      note: 'A UK design guide (p. 46, seen) holds that the 5 m were meant for point soakaways in susceptible soil, and are a sign of risk for spread features; erodible sand, soft chalk and gypsum want 10 m (a home-warranty page, seen).',
    },
    {
      ...building,
      id: 'retaining-wall',
      letter: 'FW',
      title: 'Retaining structure',
      from: [{ kind: 'wall' }],
      distance: metres(5),
      published: '5 m from a retaining structure',
      binding: 'should',
      source: buckinghamshire,
      note: 'The plan does not say which walls retain; every wall is taken.',
    },
    {
      ...lotLine,
      title: 'Site boundary and highway',
      m: 5,
      published: '5 m from highway or site boundary',
      source: buckinghamshire,
      note: 'A weak source has 2.5 m to a garden’s boundary.',
    },
    {
      test: 'distance',
      id: 'other-basin',
      letter: 'B',
      title: 'Another soakaway',
      from: [{ kind: 'basin' }],
      distance: metres(10),
      published: '10 m between soakaways',
      binding: 'must',
      source: buckinghamshire,
    },
    {
      ...waterTable,
      title: 'Groundwater below the base',
      to: ['water-table'],
      at_least_m: 1,
      published: 'base at least 1 m above groundwater',
      binding: 'must',
      source: buckinghamshire,
    },
    {
      test: 'on-site',
      id: 'soil-rate',
      letter: 'K',
      title: 'Soil that takes the water',
      ask: 'Test the soil: it must take at least 1e-6 m/s (3.6 mm/h), and the basin must be half empty within 24 h of a storm of 1 in 30 years',
      published: 'at least 1e-6 m/s; half empty in 24 h (1 in 30)',
      binding: 'must',
      source: buckinghamshire,
    },
    ...everywhere,
  ],
  lot_rules: [
    ...commonLotRules.filter(({ test }) => test !== 'soakaway-distance'),
    ...soakawayRules('fail'),
  ],
};

import { localGoverns, type RuleSetInput } from '../rules/rule';
import {
  everywhere,
  building,
  insideLot,
  metres,
  notWhereWaterStands,
  septic,
  slope,
  steepGround,
  waterTable,
} from './shared-rules';
import { washington } from './sources';

export const westernWashingtonSet: RuleSetInput = {
  id: 'western-washington',
  title: 'Western Washington rain garden handbook',
  jurisdiction: 'Western Washington (state handbook for homeowners)',
  note: localGoverns,
  rules: [
    { ...building, distance: metres(3.048), published: '10 ft', source: washington },
    {
      ...septic,
      distance: { by: 'side', uphill_m: 15.24, downhill_m: 3.048 },
      published: '50 ft where the garden is uphill of the system, 10 ft where downhill',
      source: washington,
      note: 'Ask the health department.',
    },
    insideLot,
    ...everywhere,
    { ...slope, at_most: 0.1, published: 'under 10 %', source: washington },
    {
      ...steepGround,
      steeper_than: 0.1,
      m: 15.24,
      published: 'within 50 ft of a slope over 10 %: ask a geotechnical engineer',
      binding: 'advice',
      source: washington,
    },
    {
      ...waterTable,
      id: 'look-hole',
      title: 'Water in a look hole',
      to: ['water-table'],
      measured_from: 'surface',
      published: 'no water in a hole 36 in deep in the wet season',
      binding: 'must',
      source: { ...washington, section: 'p. 15' },
    },
    { ...notWhereWaterStands, binding: 'must' },
  ],
};

import type { RuleSetInput } from '../rules/rule';
import { commonSetbacks } from './common-setbacks';
import { englandSet } from './england-set';
import { lakeheadSet } from './lakehead-set';
import { minnesotaSet } from './minnesota-set';
import { mississaugaSet } from './mississauga-set';
import { newJerseySet } from './new-jersey-set';
import { westernWashingtonSet } from './western-washington-set';

/** The sets of one place or one publisher each, the default first. */
export const publishedSets: readonly RuleSetInput[] = [
  commonSetbacks,
  minnesotaSet,
  westernWashingtonSet,
  newJerseySet,
  mississaugaSet,
  lakeheadSet,
  englandSet,
];

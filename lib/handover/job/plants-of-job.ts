import { InputError } from '../../errors';
import type { JobSettings } from '../../plan/job-settings';
import type { Plant } from '../../planting/plant';
import { readPlantList } from '../../planting/read-plant-list';
import { starterLists } from '../../planting/starter-lists';
import type { UnitSystem } from '../../units/units';

/**
 * The plants that a job names: its own list, else the starter list of its region; `null` where it names none.
 *
 * @throws {InputError} what `readPlantList` throws, `plants-none` for an empty list, `plants-unknown` for a region without one.
 */
export function plantsOf(job: JobSettings, units: UnitSystem): readonly Plant[] | null {
  const { plant_list: own, plant_region: region } = job;
  if (own !== undefined) {
    const list = readPlantList(own.csv, own.name, units);
    if (list.length > 0) return list;
    throw new InputError({
      code: 'plants-none',
      where: own.name,
      problem: 'there is no plant in it',
      remedy: 'add a row for each',
    });
  }
  if (region === undefined) return null;
  const starter = starterLists.find(({ id }) => id === region);
  if (starter !== undefined) return starter.plants;
  throw new InputError({
    code: 'plants-unknown',
    where: 'the plants',
    problem: `there is no list of plants for '${region}'`,
    remedy: `use ${starterLists.map(({ id }) => id).join(', ')}, or a list of your own`,
  });
}

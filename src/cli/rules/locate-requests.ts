import { basename } from 'node:path';
import { InputError } from '../../../lib/errors';
import { locateRequest, locateTerms } from '../../../lib/setback/locate/locate-request';
import { locateRequestText } from '../../../lib/setback/locate/locate-request-text';
import { clearLocates } from '../../../lib/setback/locate/locates';
import { placed, type Given } from '../reading/checked-plan';
import type { CommandOutput } from '../command';
import { usage } from '../usage';
import { faultOf, orProblem } from './many-plans';

/** What to ask of whom before digging, for one plan or several. */
export async function locateRequests(
  given: Given,
  paths: readonly string[],
  many: boolean,
): Promise<CommandOutput> {
  if (given.call.option('out')?.endsWith('.csv') === true) {
    throw usage('a locate request is no table', 'end the file in .txt or .json');
  }
  const request = async (path: string) => {
    const { plan, local, basins, ruleSet } = await placed({ ...given, elevation: null }, path);
    const made = await locateRequest({
      plan: local,
      basins,
      ...locateTerms(ruleSet),
      locates: clearLocates(local),
      today: given.today,
    });
    return { made, text: locateRequestText(made, plan.lotfall.units ?? 'metric') };
  };
  if (!many) {
    const { made, text } = await request(paths[0]);
    return { text, json: made };
  }
  const plans: { path: string; done: Awaited<ReturnType<typeof request>> | InputError }[] = [];
  for (const path of paths) {
    given.call.onProgress(plans.length / paths.length, basename(path));
    plans.push({ path, done: await orProblem(() => request(path)) });
  }
  return {
    text: plans
      .flatMap(({ done }) => (done instanceof InputError ? [] : [done.text]))
      .join('\n\n\n'),
    json: plans.map(({ path, done }) =>
      done instanceof InputError
        ? { plan: path, error: done.toProblem() }
        : { plan: path, ...done.made },
    ),
    faults: plans.flatMap(({ path, done }) =>
      done instanceof InputError ? [faultOf(path, done)] : [],
    ),
  };
}

import { InputError } from '../../../lib/errors';
import { applyChange } from '../../../lib/plan/change';
import { nameById } from '../../../lib/plan/feature-name';
import { featuresOf, type Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import { remedySteps, usualStormsMm } from '../../../lib/remedies/remedies';
import type { Proposal, RemediesResult } from '../../../lib/remedies/remedies-result';
import {
  whyNot,
  whyNotEnds,
  whyNotQuestion,
  whyNotRemedies,
  type WhyNotQuestion,
} from '../../../lib/remedies/why-not';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import { formatRain } from '../../../lib/units/format';
import { dayHelp, dayOf, dayOption } from '../reading/day';
import type { Call, Command } from '../command';
import {
  elevationHelp,
  elevationOptions,
  planOf,
  rainHelp,
  rainNotes,
  rainOf,
  rainOption,
  withRain,
} from '../reading/inputs';
import { sentences } from '../notes';
import { remediesText } from './remedies-text';
import { survey } from '../reading/survey';
import { usage } from '../usage';

/** Surfaces that --certainty tries: the standard error of a probability is then 0.06 at most. */
const surfaces = 60;

/** `lotfall remedies`: what would dry the walls of a lot's buildings, tried on its ground. */
export const remedies: Command = {
  name: 'remedies',
  summary: 'what would dry wet walls: tried on the ground, ranked, with what was refused',
  help: `Usage: lotfall remedies <plan.geojson> --elevation <file.tif|https://…> [--for house] [--storms 10,25,40,60mm]

${elevationHelp}
${rainHelp}
  --for <building>                      only water at this building, by its id or its name
  --storms <depth,…>                    depths in which the best proposals are tried as well; else ${usualStormsMm.join(',')}mm
  --why-not <remedy> [--to <end>]       why a remedy is not the first: ${whyNotRemedies.join(', ')};
                                        to street, sewer, lawn, or the id or name of a garden or swale
  --certainty                           how sure the three best are: on ${surfaces} equally likely surfaces, beside how sure the
                                        water is as it is
${dayHelp}
  --take <id>                           take a proposal into the plan, by its id or its rank; with --out <file>.plan.geojson
                                        that plan is written
  --json                                findings, proposals with all their parts, what was refused and why
  --out <file>                          .json or .txt; .geojson with --take

Every proposal is dug on a copy of the ground and rained on, in the plan's storm and the others: what it leaves at each wall,
what it sends to each neighbour, up to what rain the wall stays dry, how much to dig. Ranked: lawful first; walls
dried; what needs nobody's leave before what does; rain up to which walls stay dry; what neighbours are sent; earth.
Exit status 0 also where nothing helps.`,
  options: {
    ...elevationOptions,
    ...rainOption,
    ...dayOption,
    for: { type: 'string' },
    storms: { type: 'string' },
    certainty: { type: 'boolean' },
    take: { type: 'string' },
    'why-not': { type: 'string' },
    to: { type: 'string' },
  },
  forms: ['.geojson'],
  async run(call) {
    const today = dayOf(call);
    const take = call.option('take');
    if (take === undefined && /\.geojson$/i.test(call.option('out') ?? '')) {
      throw usage('--out names a plan, but no proposal is to be taken into it', 'add --take <id>');
    }
    const { plan, file, notes } = await planOf(call);
    const surveyed = await survey(call, withRain(plan, call.option('rain')), file);
    const question = whyNotOf(call, plan);
    const building = buildingOf(plan, file, call.option('for'));
    const stormsMm = stormsOf(call);
    const steps = remedySteps({
      ...surveyed,
      ruleSet: ruleSetOf(plan.lotfall),
      today,
      ...(building === undefined ? {} : { building }),
      ...(stormsMm === undefined ? {} : { stormsMm }),
      ...(call.flag('certainty') ? { surfaces } : {}),
    });
    const found = finished(steps, call);
    const units = plan.lotfall.units ?? 'metric';
    const result: RemediesResult = {
      ...found,
      notes: sentences(
        found.notes,
        notes,
        surveyed.elevation.notes.map((note) => note.text),
        rainNotes(surveyed.plan.plan),
      ),
    };
    const answer = question === null ? null : whyNot(result, question);
    const taken = take === undefined ? null : proposalBy(result, take, file);
    const [{ kind, rain_mm }] = result.events;
    return {
      text: remediesText(result, {
        title: `${plan.lotfall.name ?? file}: what would dry it, ${kind === 'thaw' ? 'in the thaw' : `${formatRain(rain_mm, units)} of rain`}`,
        words: { units, nameOf: (id) => nameById(plan.features, id) },
        taken,
        whyNot: answer,
      }),
      json: {
        ...result,
        ...(taken === null ? {} : { taken: taken.id }),
        ...(answer === null ? {} : { why_not: answer }),
      },
      ...(taken === null
        ? {}
        : {
            files: { '.geojson': writePlan(applyChange(plan, taken.change).plan) },
            alsoText: true,
          }),
    };
  },
};

/** The result, progress told on the way. */
function finished(steps: ReturnType<typeof remedySteps>, { onProgress }: Call): RemediesResult {
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
    onProgress(next.value.fraction, next.value.stage);
  }
}

/** Id of the building that the call names by id or name. */
function buildingOf(plan: Plan, file: string, named: string | undefined): string | undefined {
  if (named === undefined) return undefined;
  const buildings = featuresOf(plan, 'building');
  const asked = named.toLowerCase();
  const found = buildings.find(
    ({ id, properties }) => id === named || properties.name?.toLowerCase() === asked,
  );
  if (found !== undefined) return found.id;
  throw usage(
    `${file} has no building '${named}'`,
    buildings.length === 0
      ? 'draw the house first'
      : `name one of ${buildings.map(({ id }) => id).join(', ')}`,
  );
}

/** What the call asks about one remedy; null where it does not. */
function whyNotOf(call: Call, plan: Plan): WhyNotQuestion | null {
  const remedy = call.option('why-not');
  const end = call.option('to') ?? null;
  if (remedy === undefined) {
    if (end === null) return null;
    throw usage('--to names an end of no remedy', 'add --why-not <remedy>');
  }
  if (!whyNotRemedies.includes(remedy.toLowerCase())) {
    throw usage(`--why-not ${remedy} is no remedy`, `name one of ${whyNotRemedies.join(', ')}`);
  }
  const question = whyNotQuestion(remedy, end, plan.features);
  if (question !== null) return question;
  throw usage(
    `--to ${end ?? ''} is no end that the plan has`,
    `name ${Object.keys(whyNotEnds).join(', ')}, or a rain garden or swale by its id or name`,
  );
}

/** Most storms that one call may ask for. */
const mostStorms = 12;

function stormsOf(call: Call): number[] | undefined {
  const named = call.option('storms');
  if (named === undefined) return undefined;
  // One unit at the end counts for all: 10,25,40mm.
  const unit = /[a-z"]+\s*$/i.exec(named)?.[0] ?? '';
  const depths = named
    .split(',')
    .map((text) => text.trim())
    .map((text) => rainOf('storms', /[a-z"]$/i.test(text) ? text : `${text}${unit}`));
  if (depths.length <= mostStorms && depths.every((mm) => mm > 0)) return depths;
  throw usage(
    `--storms ${named} is no list of storms`,
    `give up to ${mostStorms} depths above 0 with a comma between them, for example 10,25,40mm`,
  );
}

function proposalBy({ proposals }: RemediesResult, named: string, file: string): Proposal {
  const found = proposals.find(({ id, rank }) => id === named || String(rank) === named);
  if (found !== undefined) return found;
  throw new InputError({
    code: 'remedies-take',
    where: file,
    problem: `no proposal is called '${named}'`,
    remedy:
      proposals.length === 0
        ? 'nothing that was tried helps, so there is nothing to take'
        : `take one of ${proposals
            .slice(0, 5)
            .map(({ id }) => id)
            .join(', ')}`,
  });
}

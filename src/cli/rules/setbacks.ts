import { ruleSets } from '../../../lib/setback/sets/rule-sets';
import { onePlanTable } from '../../../lib/setback/judge/setback-table';
import { rulesOf, type Given } from '../reading/checked-plan';
import type { Command, CommandOutput } from '../command';
import { dayHelp, dayOf, dayOption } from '../reading/day';
import { elevationOf, elevationOptions, verticalUnitHelp } from '../reading/inputs';
import { planFiles } from '../reading/plan-files';
import {
  exitHelp,
  exitOption,
  exitStatus,
  exitWords,
  isReviewer,
  refusedStatus,
} from './exit-status';
import { documentOf, judged, rowsOf, wordsOf } from './judged-plan';
import { locateRequests } from './locate-requests';
import { byHelp, byOption, checkAll } from './many-plans';
import {
  packetFile,
  PacketFolder,
  packetForms,
  packetHelp,
  packetOptions,
  packetsAsked,
  type PacketsAsked,
} from './packets';

import { sinceAsked, sinceHelp, sinceOf, sinceOption, sinceWords } from './since';

/** `lotfall setbacks`: every rule at every basin and feature, with the distance measured. */
export const setbacks: Command = {
  name: 'setbacks',
  summary: 'each rule: measured and required distance, margin, result, source',
  help: `Usage: lotfall setbacks <plan.geojson>… [--elevation <file.tif|https://…>] [--rules <id|set.json>]

  <plan.geojson>…                       one plan or several; a pattern in quotes, 'plans/*.geojson', names all that fit
  --rules <id|set.json>                 a rule set by its id (one of the plan's own, or
                                        ${ruleSets
                                          .map(({ id }) => id)
                                          .join(', ')
                                          .replace(/(.{50,}?), /g, `$1,\n${' '.repeat(40)}`)})
                                        or a file of your own; else the plan's choice
${dayHelp}
  --elevation, -e <file.tif|https://…>  for the rules about slope, what lies uphill, standing water and overflow,
                                        which cannot be judged without; and to fill and drain the basin for how
                                        long water stands, which else is its depth over the soil's rate
${verticalUnitHelp}
${exitHelp}
${byHelp}
${packetHelp}
${sinceHelp}
  --locate-request                      instead of the check: what to ask of whom before digging, and where
  --json                                one row for each rule and feature as JSON, lengths in metres
  --out <file>                          .json, .csv or .txt; of one plan .pdf or .html too: a packet for the permit,
                                        rule by rule with sketches, conditions before issue, room for the reviewer

A plan without a basin is judged by the rules that need none: where outlets and pumps end, swales and easements kept
open, fences across them, gathered water over a line, each with whom to ask (member lot of the JSON).

Each row says from which edge of the basin to what was measured, where that edge is assumed, the section of the source,
and what settles it before a permit is issued where it could not be judged. Each result names the program's version, the
plan, raster and rule set by checksum (SHA-256; the raster's CRC-32, as plans keep it; of a rule set that of the set as
it was read).

Of several plans the JSON is a list with one document for each, the table has the plan's name first and the worst plan
on top, and a plan that cannot be checked does not keep the others from it.

${exitWords}

A utility line without a current locate never passes, and where no line is drawn nothing passes
until the plan has the answers (lotfall.locates) of those who looked and found none. Local code governs.`,
  options: {
    ...elevationOptions,
    ...dayOption,
    ...exitOption,
    ...byOption,
    ...packetOptions,
    ...sinceOption,
    rules: { type: 'string' },
    'locate-request': { type: 'boolean' },
  },
  forms: ['.csv', ...packetForms],
  async run(call) {
    isReviewer(call);
    const { paths, many } = planFiles(call.words);
    const today = dayOf(call);
    const given = {
      call,
      today,
      rules: await rulesOf(call),
      elevation: await elevationOf(call),
    };
    if (call.flag('locate-request')) return locateRequests(given, paths, many);
    sinceAsked(call, many);
    const packets = await packetsAsked(call, many);
    return many ? checkAll(given, paths, packets) : checkOne(given, paths[0], packets);
  },
  refusedStatus,
};

async function checkOne(given: Given, path: string, packets: PacketsAsked): Promise<CommandOutput> {
  const plan = await judged(given, path);
  const earlier = sinceAsked(given.call, false);
  const since = earlier === undefined ? undefined : await sinceOf(given, earlier, plan);
  await new PacketFolder(given.call, packets).write(plan, since);
  return {
    text: [wordsOf(plan), ...(since === undefined ? [] : [sinceWords(since, plan)])].join('\n\n'),
    json: { ...documentOf(plan), ...(since === undefined ? {} : { since }) },
    files: {
      '.csv': onePlanTable(rowsOf(plan)),
      ...(await packetFile(given.call, plan, packets, since)),
    },
    status: exitStatus(given.call, [plan.state]),
  };
}

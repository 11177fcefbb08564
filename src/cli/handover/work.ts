import type { WorkTime } from '../../../lib/handover/building/digging-time';
import { stepsSource, type WorkStep } from '../../../lib/handover/building/steps';
import { usualPeople, usualWheelM, workOfJob } from '../../../lib/handover/job/work-of-job';
import type { Command } from '../command';
import { gardensOf } from '../reading/gardens';
import { elevationHelp, elevationOptions, rainHelp, rainOption } from '../reading/inputs';
import { jobOf } from '../reading/job';
import { noteLines } from '../notes';
import { table } from '../writing/table';

/** `lotfall work`: how to build it, and how long that takes. */
export const work: Command = {
  name: 'work',
  summary: 'how to build it: steps with tools, checks and cautions, and the time that it takes',
  help: `Usage: lotfall work <plan.geojson> [--elevation <file.tif|https://…>] [--people 3]

${elevationHelp}
${rainHelp}
  --people <number>                     who dig; when not given 2
  --wheel <length>                      from the hole to where the soil goes; when not given 15 m

Times are ranges, from paid labour to people at home, each with its source.`,
  options: {
    ...elevationOptions,
    ...rainOption,
    people: { type: 'string' },
    wheel: { type: 'string' },
  },
  async run(call) {
    const { plan, design, gardens, notes } = await gardensOf(call);
    const job = await jobOf(call, plan);
    const units = plan.lotfall.units ?? 'metric';
    const { time, basins } = workOfJob(gardens, design, units, {
      people: job.people ?? usualPeople,
      wheelM: job.wheel_m ?? usualWheelM,
    });
    return {
      text: [
        plan.lotfall.name ?? 'Work',
        timeText(time),
        ...basins.map(({ name, steps }) => `${name}\n\n${steps.map(stepText).join('\n\n')}`),
        noteLines([`Steps: ${stepsSource}.`, ...notes]),
      ].join('\n\n'),
      json: { time, basins, source: stepsSource, notes },
    };
  },
};

function timeText({ tasks, people, hours_a_day, person_hours, days, note }: WorkTime): string {
  const range = ([from, to]: readonly [number, number]): string =>
    `${Math.round(from)} to ${Math.round(to)}`;
  return [
    `Time: ${range(person_hours)} hours of one person; with ${people} of them, ${hours_a_day} h a day, ${days[0] === days[1] ? days[0] : range(days)} days`,
    table(
      tasks.map(({ task, amount, unit, person_hours: hours, quick_source, slow_source }) => [
        `  ${task}`,
        unit === 'm3' ? `${amount.toFixed(1)} m³` : `${Math.ceil(amount)} plants`,
        `${range(hours)} h`,
        quick_source === slow_source
          ? quick_source
          : `quick: ${quick_source}; slow: ${slow_source}`,
      ]),
      'lrrl',
    ),
    `  ${note}`,
  ].join('\n');
}

function stepText(step: WorkStep, index: number): string {
  const block = (title: string, lines: readonly string[]): string[] =>
    lines.map((line) => `   ${title}: ${line}`);
  return [
    `${String(index + 1).padStart(2)} ${step.title}`,
    ...step.how.map((line) => `   ${line}`),
    ...(step.tools.length === 0 ? [] : [`   Tools: ${step.tools.join(', ')}`]),
    ...block('Check', step.check),
    ...block('Goes wrong', step.goes_wrong),
    ...block('Caution', step.caution),
  ].join('\n');
}

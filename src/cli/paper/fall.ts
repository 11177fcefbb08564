import { frameAround } from '../../../lib/frame/frame-around';
import { linesOnPaper } from '../../../lib/paper/lines-on-paper';
import { toLocal } from '../../../lib/plan/local-plan';
import { planArea } from '../../../lib/plan/plan-area';
import type { Command } from '../command';
import { planOf } from '../reading/inputs';
import { noteLines, sentences } from '../notes';
import { lineWords } from '../../../lib/paper/paper-words';
import { usage } from '../usage';

/** `lotfall fall`: whether there is a lower end, and what drain fits. */
export const fall: Command = {
  name: 'fall',
  summary: 'how the ground falls along a line with two levels or more, and what drain fits',
  help: `Usage: lotfall fall <plan.geojson> [--from <level>] [--to <level>]

  --from <level>, --to <level>          levels (spot heights) by id or name; else from the highest to the lowest
  --intensity <mm/h>                    rain on roofs and paving that the drain is to carry (when not given 100)
  --json                                the whole answer as JSON
  --out <file>                          .json or .txt

Takes every drain pipe and swale of the plan that has two levels or more within a metre, and the way between two levels.
Says whether there is a lower end, how deep the least pipe or swale lies along the way, and by how much it is short.`,
  options: {
    from: { type: 'string' },
    to: { type: 'string' },
    intensity: { type: 'string' },
  },
  async run(call) {
    const { plan, file, notes } = await planOf(call);
    const area = planArea(plan);
    if (area === null) throw usage(`${file} is empty`, 'draw at least two spot heights');
    const mmPerH = intensityOf(call.option('intensity'));
    const found = linesOnPaper(toLocal(plan, frameAround(area)), file, {
      from: call.option('from'),
      to: call.option('to'),
      mmPerH,
    });
    const units = plan.lotfall.units ?? 'metric';
    const remarks = sentences(notes);
    return {
      text: [
        ...found.lines.map((line) => lineWords(line, found.flow_mm_per_h, units)),
        ...(remarks.length > 0 ? [noteLines(remarks)] : []),
      ].join('\n\n'),
      json: { ...found, notes: remarks },
    };
  },
};

function intensityOf(named: string | undefined): number | undefined {
  if (named === undefined) return undefined;
  const [, figure] = /^(\d+(?:\.\d+)?)\s*(?:mm\/h)?$/.exec(named.trim()) ?? [];
  const mmPerH = Number(figure);
  if (figure !== undefined && mmPerH <= 1000) return mmPerH;
  throw usage(
    `'${named}' is no intensity of rain`,
    'write it in millimetres an hour, like 100, at most 1000',
  );
}

import { hoursText } from '../../../lib/basin/design/judge-drain-down';
import type { Frame, XY } from '../../../lib/frame/frame';
import type { PlaceAnswer } from '../../../lib/siting/answer/ask-place';
import {
  defaultWeights,
  defaultWeightsSource,
  scorePartNames,
  type ScoreWeights,
} from '../../../lib/siting/sizing/score';
import type {
  CandidateSite,
  JointSites,
  SitingResult,
  SitingRemedy,
} from '../../../lib/siting/sizing/siting-result';
import type { LedRoof } from '../../../lib/siting/leading/led-roof';
import { compass } from '../../../lib/units/compass';
import { formatArea, formatLength, formatSlope, formatVolume } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';

interface About {
  readonly title: string;
  readonly units: UnitSystem;
  readonly frame: Frame;
  readonly weights: ScoreWeights;
  readonly asked: PlaceAnswer | null;
  readonly notes: readonly string[];
}

/** The answer for people. */
export function sitesText(found: SitingResult, about: About): string {
  const { title, units, frame, weights, asked, notes } = about;
  const parts = [title];
  if (asked !== null) parts.push(askedText(asked, units, frame));
  if (found.sites.length === 0) {
    parts.push('No place on this lot is proposed; the first note says why.');
    if (found.ways_out.length > 0) parts.push(waysOutText(found.ways_out, units));
  } else {
    parts.push(siteTable(found.sites, units, frame), partsTable(found.sites, weights));
    const leads = found.sites.flatMap((site) =>
      site.led.map((roof) => leadText(`Place ${site.rank}`, roof, units)),
    );
    if (leads.length > 0) {
      const unmarked = found.sites
        .flatMap((site) => site.led.flatMap(({ trench }) => trench))
        .find(({ what }) => what === 'unmarked');
      const last = unmarked === undefined ? [] : [unmarked.why];
      parts.push(`Roofs that have to be led\n${[...leads, ...last].join('\n')}`);
    }
    const advice = adviceText(found.sites);
    if (advice.length > 0) parts.push(`Advice that is not kept\n${advice.join('\n')}`);
    const sizes = found.sites.flatMap((site) => sizeText(site, units));
    if (sizes.length > 0) parts.push(`By simulation\n${sizes.join('\n')}`);
  }
  if (found.joint !== null) parts.push(jointText(found.joint, units, frame));
  parts.push(...forbiddenTexts(found, units));
  if (notes.length > 0) parts.push(noteLines(notes));
  return parts.join('\n\n');
}

function siteTable(found: readonly CandidateSite[], units: UnitSystem, frame: Frame): string {
  const mostM3 = Math.max(...found.map((site) => site.captured_m3));
  const severalLots = new Set(found.map((site) => site.lot)).size > 1;
  const rows = found.map((site) => [
    String(site.rank),
    place(site.at, frame),
    site.form,
    formatArea(site.area_m2, units),
    formatLength(site.ponding_depth_m, units),
    formatArea(site.catches_m2, units),
    formatVolume(site.captured_m3, units, mostM3),
    `${Math.round(site.captured_fraction * 100)} %`,
    site.score.toFixed(2),
    rulesText(site),
    ...(severalLots ? [site.lot] : []),
  ]);
  const head =
    'rank,longitude and latitude,shape,area,ponding,catches,holds,of run-off,score,rules';
  return table([[...head.split(','), ...(severalLots ? ['lot'] : [])], ...rows], 'rllrrrrrrll');
}

/** Binding rules are all kept: what is left is advice that is not, and what cannot be judged. */
function rulesText({ setbacks: { summary } }: CandidateSite): string {
  const against = summary.fail > 0 ? [`${summary.fail} advised against`] : [];
  const open = summary.check > 0 ? [`${summary.check} cannot be judged`] : [];
  return [...against, ...open].join(', ') || 'all kept';
}

/** Advice that places do not keep, each with the places. */
function adviceText(found: readonly CandidateSite[]): string[] {
  const places = new Map<string, number[]>();
  for (const { rank, setbacks } of found) {
    for (const row of setbacks.results.filter(({ result }) => result === 'fail')) {
      const words = `${row.title}, ${row.feature_name}`;
      places.set(words, [...(places.get(words) ?? []), rank]);
    }
  }
  return [...places].map(([words, ranks]) => `  ${words}: ${placesText([...new Set(ranks)])}`);
}

function placesText(ranks: readonly number[]): string {
  return ranks.length === 1 ? `place ${ranks[0]}` : `places ${ranks.join(', ')}`;
}

const partWords: Readonly<Partial<Record<string, string>>> = { recommended: 'advice kept' };

function partsTable(found: readonly CandidateSite[], weights: ScoreWeights): string {
  const rows = found.map(({ rank, parts }) => [
    String(rank),
    ...scorePartNames.map((part) => parts[part]?.toFixed(2) ?? '–'),
  ]);
  const names = scorePartNames.map((part) => partWords[part] ?? part);
  const isUsual = scorePartNames.every((part) => weights[part] === defaultWeights[part]);
  const weighed = ['weight', ...scorePartNames.map((part) => String(weights[part]))];
  const lines = table([['rank', ...names], ...rows, weighed], 'rrrrrrrr');
  return `Parts of the score, from 0 (worst) to 1, and ${isUsual ? `the usual weights (${defaultWeightsSource.mark})` : 'your weights'}\n${lines}`;
}

function leadText(whose: string, roof: LedRoof, units: UnitSystem): string {
  const bends = roof.route.length - 2;
  const way = bends > 0 ? `${bends} bend${bends === 1 ? '' : 's'}` : 'straight';
  const meets = roof.trench
    .filter(({ what }) => what !== 'unmarked')
    .map(
      ({ feature_name, length_m, why }) =>
        `${feature_name} (${formatLength(length_m, units)}): ${why}`,
    );
  return [
    `${whose}: ${roof.roof}, ${formatLength(roof.distance_m, units)} (${way}), falls ${formatLength(roof.fall_m, units)} (${formatSlope(roof.fall_ratio)}), ground up to ${formatLength(roof.deepest_m, units)} over the fall`,
    ...meets.map((each) => `  ${each}`),
  ].join('\n');
}

function sizeText(site: CandidateSite, units: UnitSystem): string[] {
  const { simulated } = site;
  if (simulated === null) return [];
  const share = `${Math.round(simulated.wanted_share * 100)} %`;
  const wanted =
    simulated.area_for_share_m2 === null
      ? `no size allowed captures ${share}`
      : `${formatArea(simulated.area_for_share_m2, units)} captures ${share}`;
  const drains =
    site.drain_down_h === null
      ? 'does not drain in time'
      : `empty ${hoursText(simulated.after_rain_h ?? 0)} after the rain, ${hoursText(simulated.from_full_h ?? 0)} from full`;
  return [
    `Place ${site.rank}: ${formatVolume(simulated.inflow_m3, units)} come, ${formatVolume(simulated.overflow_m3, units, simulated.inflow_m3)} overflow, ${drains}; ${wanted}, the size factors ask for ${formatArea(site.wanted_m2, units)}`,
  ];
}

function jointText(joint: JointSites, units: UnitSystem, frame: Frame): string {
  const rows = joint.basins.map((basin, i) => [
    String(i + 1),
    place(basin.at, frame),
    formatArea(basin.area_m2, units),
    `${Math.round(basin.share * 100)} %`,
    basin.led.map((roof) => roof.roof).join(', ') || '–',
    formatVolume(basin.captured_m3, units, joint.captured_m3),
    formatVolume(basin.from_overflow_m3, units, joint.captured_m3),
    basin.overflow_m3 > 0
      ? `${formatVolume(basin.overflow_m3, units, joint.captured_m3)}${basin.overflows_to === null ? '' : ` to basin ${basin.overflows_to}`}`
      : '–',
  ]);
  const head =
    'basin,longitude and latitude,area,share of water,roofs led,holds,from overflow,overflows';
  return `${joint.basins.length} basins that share the water: ${formatVolume(joint.captured_m3, units)} held (${Math.round(joint.captured_fraction * 100)} % of what comes to them), ${formatVolume(joint.single_captured_m3, units, joint.captured_m3)} at most by a single place\n${table([head.split(','), ...rows], 'rlrrlrrl')}`;
}

function askedText(asked: PlaceAnswer, units: UnitSystem, frame: Frame): string {
  const where = place(asked.at, frame);
  const rules = asked.forbidding.map(({ row, shortByM }) =>
    shortByM === null
      ? `  ${row.title} (${row.binding}), ${row.feature_name}: ${row.why}`
      : `  ${row.title} (${row.binding}), ${row.feature_name}: short by ${formatLength(shortByM, units)}`,
  );
  const lines: string[] = [];
  if (asked.here !== null) {
    const { here } = asked;
    const parts = scorePartNames
      .map((part) => `${partWords[part] ?? part} ${here.parts[part]?.toFixed(2) ?? '–'}`)
      .join(', ');
    lines.push(
      `A basin can lie at ${where}: ${here.form}, ${formatArea(here.area_m2, units)}, catches ${formatArea(here.catches_m2, units)}, holds ${formatVolume(here.captured_m3, units)}; score ${here.score.toFixed(2)} (${parts})`,
    );
    if (rules.length > 0) lines.push('Advised against by', ...rules);
    return lines.join('\n');
  }
  lines.push(
    asked.lot === null
      ? `No basin can lie at ${where}: it is not on your lot`
      : `No basin can have its middle at ${where}`,
    ...rules,
  );
  const { nearest } = asked;
  lines.push(
    nearest === null
      ? 'No other place on the lot would do.'
      : `The nearest that would do: ${place(nearest.at, frame)}, ${formatLength(nearest.distance_m, units)} to the ${compass(nearest.bearing_deg)} (${Math.round(nearest.bearing_deg)}°), ${nearest.form}, ${formatArea(nearest.area_m2, units)}`,
  );
  return lines.join('\n');
}

function waysOutText(ways: readonly SitingRemedy[], units: UnitSystem): string {
  const lines = ways.map(({ text, freed_m2, area_m2 }) => {
    const fits =
      area_m2 > 0 ? `${formatArea(area_m2, units)} would fit` : 'no garden would fit even then';
    const freed = freed_m2 > 0 ? `${formatArea(freed_m2, units)} more open to a rim; ` : '';
    return `  ${text} ${freed}${fits}.`;
  });
  return `What would change that, each worked out as if it alone were so\n${lines.join('\n')}`;
}

function forbiddenTexts(found: SitingResult, units: UnitSystem): string[] {
  const rows = found.refused.filter((row) => row.area_m2 > 0);
  const binding = rows.filter((row) => row.binding === 'must');
  const advised = rows.filter((row) => row.binding !== 'must');
  const parts: string[] = [];
  // Nothing was looked at where the data do not allow it.
  if (found.refused.length > 0) {
    parts.push(
      `Of the lot's ${formatArea(found.lot_m2, units)}, binding rules leave ${formatArea(found.allowed_m2, units)} for the basin's rim.`,
    );
  }
  if (binding.length > 0) {
    parts.push(
      table(
        [
          ['ruled out by', 'area', 'only by it'],
          ...binding.map((row) => [
            row.title,
            formatArea(row.area_m2, units),
            formatArea(row.alone_m2, units),
          ]),
        ],
        'lrr',
      ),
    );
  }
  if (advised.length > 0) {
    parts.push(
      `Advised against: ${advised.map((row) => `${row.title} (${formatArea(row.area_m2, units)})`).join(', ')}.`,
    );
  }
  return parts;
}

function place(at: XY, frame: Frame): string {
  return frame
    .toLngLat(at)
    .map((degrees) => degrees.toFixed(6))
    .join(', ');
}

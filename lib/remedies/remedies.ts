import { stormAt } from '../basin/overflow/notch-storm';
import { notJudged } from '../drainage/answer/not-judged';
import { doubtfulBelowM, errorsOf } from '../drainage/height-error/error-defaults';
import type { Survey } from '../drainage/storm/survey-lot';
import { cellCentre } from '../elevation/grid';
import { InputError } from '../errors';
import { featureName, nameById } from '../plan/feature-name';
import { homeLot } from '../plan/home-lot';
import type { RuleSet } from '../setback/rules/rule';
import { formatLength, formatRain } from '../units/format';
import { basinVerdicts, changedRules, lotVerdicts, type Verdicts } from './changed-rules';
import { hollowsAtWalls, type Hollow } from './hollows';
import { notJudgedRemedies } from './not-judged';
import type { Part } from './part';
import { ranked } from './rank';
import type {
  FindingRow,
  MeasureFirst,
  Proposal,
  RefusedRow,
  RemediesResult,
  RemedyNews,
} from './remedies-result';
import { singleParts, holdingParts, type Choice } from './singles';
import { RemedySite } from './site';
import {
  combined,
  effectsOf,
  isDry,
  proposalOf,
  wallsOf,
  type Combination,
  type DryTo,
  type Tried,
} from './tried';
import { wallCertainty } from './wall-certainty';
import { eventOf, Trials, type NearWater, type Trial, type TrialEvent } from './trials';

/** A lot with its storm, as remedies are asked about it. */
export interface RemediesQuestion extends Survey {
  readonly ruleSet: RuleSet;
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** Storms, beside the plan's own event, that the best proposals are tried in, millimetres; `usualStormsMm` when not given. */
  readonly stormsMm?: readonly number[];
  /** Looks only at walls of this building. */
  readonly building?: string;
  /** On so many equally likely surfaces the best are tried as well; on none when not given. */
  readonly surfaces?: number;
}

/** Small rains that come often, and large ones. Our choice, no source. */
export const usualStormsMm: readonly number[] = [10, 25, 40, 60, 100];
/** Rains between which it is told up to which a wall stays dry. Our choice, no source. */
const ladderMm: readonly number[] = [5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 80, 100, 120, 150];
/** So many singles are tried in pairs, and so many proposals in all storms, of those so many by the rules for basins. Our choice, no source. */
const mostPaired = 4;
const mostFinal = 8;
const mostChecked = 3;
const mostCertain = 3;
/** From this part of the surfaces on measuring comes first. Our choice, no source. */
const unsureFrom = 0.2;

/**
 * Tries the trade's remedies on a lot's ground, alone and together, and tells what each does to every wall and neighbour.
 *
 * Proposals are told as they come, in the plan's own event at first and again when they have been tried in all; what
 * is returned has them by rank. Everything said of a proposal comes from pouring on the ground with it dug.
 *
 * @throws {InputError} `remedies-no-building`, `remedies-building`, `remedies-coarse`, `remedies-edge`.
 * Cost: on a lot of 300 x 300 cells about 10 to 20 s in all, see the notes of `Trials`.
 */
export function remedySteps(question: RemediesQuestion): Generator<RemedyNews, RemediesResult> {
  return new RemedySearch(question).run();
}

class RemedySearch {
  readonly #question: RemediesQuestion;
  readonly #trials: Trials;
  readonly #main: TrialEvent;
  readonly #events: readonly TrialEvent[];
  readonly #ladder: readonly TrialEvent[];
  readonly #tried = new Map<string, Tried>();
  readonly #proposals = new Map<string, Proposal>();
  readonly #refused: RefusedRow[] = [];
  #hollows: readonly Hollow[] = [];
  #doubtful: readonly boolean[] = [];
  #before!: Trial;
  #dryBefore: DryTo = [];
  #verdictsBefore: Verdicts | null = null;
  readonly #lotBefore: Verdicts;

  constructor(question: RemediesQuestion) {
    this.#question = question;
    refuseUnfit(question);
    const { plan, elevation, stormsMm = usualStormsMm } = question;
    const { lotfall } = plan.plan;
    this.#trials = new Trials(elevation.grid, plan);
    this.#main = eventOf(lotfall);
    this.#lotBefore = lotVerdicts(plan, question.ruleSet);
    const isMain = (mm: number): boolean => this.#main.kind === 'storm' && this.#main.rainMm === mm;
    const storms = [...new Set(stormsMm)].sort((a, b) => a - b).filter((mm) => !isMain(mm));
    const hasThaw = lotfall.thaw !== undefined && this.#main.kind === 'storm';
    this.#events = [
      this.#main,
      ...storms.map((mm) => eventOf(stormAt(lotfall, mm))),
      ...(hasThaw ? [eventOf({ ...lotfall, event: 'thaw' as const })] : []),
    ];
    const rungs = new Set([...ladderMm, ...this.#events.map(({ rainMm }) => rainMm)]);
    this.#ladder = [...rungs]
      .sort((a, b) => a - b)
      .map(
        (mm) =>
          this.#events.find(({ kind, rainMm }) => kind === 'storm' && rainMm === mm) ??
          eventOf(stormAt(lotfall, mm)),
      );
  }

  *run(): Generator<RemedyNews, RemediesResult> {
    yield { fraction: 0, stage: 'Looking for water at walls' };
    this.#look();
    if (this.#hollows.length === 0) return this.#result();
    const { plan, elevation, shape, ruleSet, today } = this.#question;
    const site = new RemedySite({
      elevation: elevation.grid,
      plan,
      shape,
      hollows: this.#sought(),
      ruleSet,
      today,
    });
    for (const choice of singleParts(site, this.#refused)) {
      yield* this.#trySingle(choice, 0.05);
    }
    const holds = holdingParts(site);
    yield* this.#tryTogether(holds, 0.35);
    yield* this.#tryFinalists(0.6);
    yield* this.#tryOnSurfaces(0.9);
    return this.#result();
  }

  #look(): void {
    const { plan, building } = this.#question;
    const trials = this.#trials;
    const on = trials.shape(plan);
    const { storm } = trials.settle(on, this.#main);
    // the next trial overwrites it: what is needed of it is taken here
    const hollows = hollowsAtWalls(on.shape.ground.grid, plan, storm.depthM, trials.near);
    this.#hollows =
      building === undefined
        ? hollows
        : hollows.filter(({ walls }) => walls.some((wall) => wall.building.id === building));
    trials.watch(wallsOf(this.#hollows).map(({ zone }) => zone));
    if (this.#hollows.length === 0) return;
    this.#before = trials.fullOn(on, [this.#main]);
    this.#dryBefore = this.#before.outcomes[0].zones.map(() => null);
    this.#doubtful = this.#hollows.map((hollow) => this.#isDoubtful(hollow));
  }

  /** Waters that remedies are sought for: those deeper than the heights may be off, or all where none is. */
  #sought(): readonly Hollow[] {
    const sure = this.#sure();
    return sure.length > 0 ? sure : this.#hollows;
  }

  #sure(): readonly Hollow[] {
    return this.#hollows.filter((_, i) => !this.#doubtful[i]);
  }

  /** The best of the parts that stand for one another, alone. */
  *#trySingle({ parts }: Choice, fraction: number): Generator<RemedyNews> {
    let best: { combination: Combination; left: number } | null = null;
    for (const part of parts) {
      const combination = combined(this.#question.plan, [part]);
      if (combination === null) continue;
      const left = this.#leftM3(combination);
      if (best === null || left < best.left - 1e-4) best = { combination, left };
      if (left === 0) break;
    }
    yield { fraction, stage: 'Trying remedies one by one' };
    if (best === null) return;
    if (!this.#helps(best.combination)) {
      this.#refuseHelpless(best.combination);
      return;
    }
    yield* this.#take(best.combination, fraction);
  }

  /** Water left at walls that is not dry, in the plan's event, m3. */
  #leftM3({ plan }: Combination): number {
    const before = this.#before.outcomes[0].zones;
    const [{ zones }] = this.#trials.walls(plan, [this.#main]).outcomes;
    return zones.reduce((sum, zone, i) => sum + (isDry(zone, before[i]) ? 0 : zone.volumeM3), 0);
  }

  #helps({ plan }: Combination): boolean {
    const [{ zones }] = this.#trials.walls(plan, [this.#main]).outcomes;
    const sought = this.#sought();
    const effects = effectsOf(this.#before.outcomes[0].zones, zones);
    return this.#hollows
      .flatMap((hollow) => hollow.walls.map(() => sought.includes(hollow)))
      .some((isSought, i) => isSought && effects[i] !== 'none');
  }

  /** Says of what does not help in this event whether it does in less rain. */
  #refuseHelpless({ plan, parts: [part] }: Combination): void {
    const { plan: base } = this.#question;
    const less = this.#events.find(
      ({ kind, rainMm }) => kind === 'storm' && rainMm < this.#main.rainMm,
    );
    let because = 'No help: as much water stands at the wall.';
    if (less !== undefined) {
      const was = sumM3(this.#trials.walls(base, [less]));
      const is = sumM3(this.#trials.walls(plan, [less]));
      const saved = was > 0 ? Math.round(100 * (1 - is / was)) : 0;
      because =
        saved >= 5
          ? `No help in ${rain(this.#main)}: the low spot fills from the ground above; in ${rain(less)} ${saved} % less stands at the wall.`
          : `No help in ${rain(this.#main)}, nor in ${rain(less)}.`;
    }
    this.#refused.push({
      remedy: part.verb,
      key: part.key,
      low_spot: part.hollow,
      because,
      would_change:
        'First what comes from the ground above has to be led off, held or turned aside.',
    });
  }

  /** Tries a combination in the plan's event and tells of it. */
  *#take(combination: Combination, fraction: number): Generator<RemedyNews, Proposal> {
    const after = this.#trials.full(combination.plan, [this.#main]);
    const proposal = this.#keep({
      combination,
      before: this.#before,
      after,
      dryTo: { before: this.#dryBefore, after: this.#dryBefore },
      planRules: changedRules(
        this.#lotBefore,
        lotVerdicts(combination.plan, this.#question.ruleSet),
      ),
    });
    yield { fraction, stage: 'Trying remedies', proposal };
    return proposal;
  }

  #keep(tried: Tried): Proposal {
    const proposal = proposalOf(tried, this.#hollows, this.#sought(), this.#sure());
    this.#tried.set(proposal.id, tried);
    this.#proposals.set(proposal.id, proposal);
    return proposal;
  }

  /** Pairs and threes: what dries one water with what dries another, and with what holds what they send on. */
  *#tryTogether(holds: readonly Part[], fraction: number): Generator<RemedyNews> {
    const drying = ranked([...this.#proposals.values()]).filter(
      ({ mark, rules }) => mark === 'dries' && !rules.some(isOfPlace),
    );
    const helping = [
      ...drying.filter(({ lawful }) => lawful !== 'fail').slice(0, mostPaired),
      ...drying.filter(({ lawful }) => lawful === 'fail').slice(0, mostPaired),
    ];
    const dryers = helping.map(({ id }) => this.#partsOf(id));
    const pairs: Part[][] = dryers.flatMap((one, i) =>
      dryers.slice(i + 1).flatMap((other) => {
        const isSame = one.some((a) => other.some((b) => a.hollow === b.hollow));
        return isSame ? [] : [[...one, ...other]];
      }),
    );
    for (const parts of pairs) yield* this.#tryParts(parts, fraction);
    const led = [...dryers, ...pairs].filter((parts) =>
      this.#proposals
        .get(this.#idOf(parts))
        ?.rules.some(({ rule, result }) => rule === 'sends-more' && result === 'fail'),
    );
    for (const parts of led) {
      for (const hold of holds) yield* this.#tryParts([...parts, hold], fraction);
    }
  }

  #partsOf(id: string): Part[] {
    return [...(this.#tried.get(id)?.combination.parts ?? [])];
  }

  #idOf(parts: readonly Part[]): string {
    for (const [id, { combination }] of this.#tried) {
      const same = combination.parts.length === parts.length;
      if (same && combination.parts.every((part, i) => part === parts[i])) return id;
    }
    return '';
  }

  *#tryParts(parts: readonly Part[], fraction: number): Generator<RemedyNews> {
    const combination = combined(this.#question.plan, parts);
    yield { fraction, stage: 'Trying remedies together' };
    if (combination === null || !this.#helps(combination)) return;
    yield* this.#take(combination, fraction);
  }

  /** The best in all events, and by the rules for basins. */
  *#tryFinalists(from: number): Generator<RemedyNews> {
    const best = ranked([...this.#proposals.values()]).slice(0, mostFinal);
    yield { fraction: from, stage: 'Trying the best in all storms' };
    this.#before = this.#trials.full(this.#question.plan, this.#events);
    this.#dryBefore = this.#dryTo(this.#question.plan);
    const { elevation, ruleSet, today, plan } = this.#question;
    const hasBasin = plan.of.basin.length > 0;
    let at = 0;
    for (const { id } of best) {
      const fraction = from + ((1 - from) * at) / best.length;
      yield { fraction, stage: 'Trying the best in all storms' };
      const tried = this.#tried.get(id);
      if (tried === undefined) continue;
      const on = tried.combination.plan;
      const after = this.#trials.full(on, this.#events);
      const dryTo = { before: this.#dryBefore, after: this.#dryTo(on) };
      let rules = tried.planRules;
      if (hasBasin && at < mostChecked) {
        this.#verdictsBefore ??= basinVerdicts(this.#question, ruleSet, today);
        const { shape } = this.#trials.shape(on);
        const verdicts = basinVerdicts({ elevation, plan: on, shape }, ruleSet, today);
        rules = [...rules, ...changedRules(this.#verdictsBefore, verdicts)];
      }
      const proposal = this.#keep({
        ...tried,
        before: this.#before,
        after,
        dryTo,
        planRules: rules,
      });
      yield { fraction, stage: 'Trying the best in all storms', proposal };
      at++;
    }
  }

  /** How sure the best are, beside how sure the water is as it is. */
  *#tryOnSurfaces(fraction: number): Generator<RemedyNews> {
    const { surfaces = 0, elevation, plan } = this.#question;
    const { rainMm } = this.#main;
    const stage = 'Trying the best on equally likely surfaces';
    if (surfaces === 0) return;
    const best = ranked([...this.#proposals.values()]).slice(0, mostCertain);
    yield { fraction, stage };
    const now = wallCertainty(elevation.grid, plan, rainMm, surfaces);
    const own = new Set(wallsOf(this.#hollows).map(({ building }) => building.id));
    for (const proposal of best) {
      const tried = this.#tried.get(proposal.id);
      if (tried === undefined) continue;
      yield { fraction, stage };
      const then = wallCertainty(elevation.grid, tried.combination.plan, rainMm, surfaces);
      const walls = now.flatMap(({ id, probability: before }, i) =>
        own.has(id)
          ? [
              {
                building: id,
                name: nameById(plan.plan.features, id),
                probability: { before, after: then[i].probability },
              },
            ]
          : [],
      );
      const sure = { ...proposal, certainty: { surfaces, walls } };
      this.#proposals.set(proposal.id, sure);
      yield { fraction, stage, proposal: sure };
    }
  }

  /** Up to what rain each wall stays dry: the last rung of the ladder below the first on which it is wet. */
  #dryTo(plan: RemediesQuestion['plan']): DryTo {
    const ladder = this.#ladder;
    const before = this.#before.outcomes[0].zones;
    const on = this.#trials.shape(plan);
    const known = new Map<number, readonly boolean[]>();
    const dryAt = (rung: number): readonly boolean[] => {
      let dry = known.get(rung);
      if (dry === undefined) {
        const zones = this.#trials.zonesIn(on, ladder[rung]);
        dry = zones.map((zone, i) => isDry(zone, before[i]));
        known.set(rung, dry);
      }
      return dry;
    };
    return before.map((_, i) => {
      let [dry, wet] = [-1, ladder.length];
      while (wet - dry > 1) {
        const rung = (dry + wet) >> 1;
        if (dryAt(rung)[i]) dry = rung;
        else wet = rung;
      }
      return dry === -1 ? 0 : ladder[dry].rainMm;
    });
  }

  #result(): RemediesResult {
    const proposals = ranked([...this.#proposals.values()]).map((proposal, i) => ({
      ...proposal,
      rank: i + 1,
    }));
    const findings = this.#findings();
    return {
      events: this.#events.map(({ kind, rainMm }) => ({ kind, rain_mm: rainMm })),
      findings,
      measure_first: this.#measureFirst(findings, proposals[0]),
      proposals,
      refused: this.#refused,
      not_judged: notJudgedRemedies,
      tried: this.#trials.tried,
      notes: this.#notes(proposals),
    };
  }

  /** Whether a water is no deeper than the error of the heights between its bottom and its farthest edge. */
  #isDoubtful({ cells, pit, walls }: Hollow): boolean {
    const { plan, elevation } = this.#question;
    const { grid } = elevation;
    const rmseM = plan.plan.lotfall.elevation?.rmse_m;
    const errors = errorsOf(grid.cellM, rmseM === undefined ? {} : { rmseM });
    const [x, y] = cellCentre(grid, pit);
    let [eastM, northM] = [0, 0];
    for (const cell of cells) {
      const [cx, cy] = cellCentre(grid, cell);
      if (Math.hypot(cx - x, cy - y) <= Math.hypot(eastM, northM)) continue;
      [eastM, northM] = [Math.abs(cx - x), Math.abs(cy - y)];
    }
    const deepestM = Math.max(...walls.map((wall) => this.#zoneOf(wall.id).depthM));
    return deepestM < doubtfulBelowM(errors, eastM, northM);
  }

  #zoneOf(id: string): NearWater {
    const at = wallsOf(this.#hollows).findIndex((wall) => wall.id === id);
    return this.#before.outcomes[0].zones[at];
  }

  #findings(): FindingRow[] {
    const { plan, elevation } = this.#question;
    return this.#hollows.flatMap(({ key, pit, walls }, i) =>
      walls.map(({ id, building }): FindingRow => {
        const zone = this.#zoneOf(id);
        return {
          id,
          building: building.id,
          name: featureName(building.feature),
          low_spot: key,
          volume_m3: zone.volumeM3,
          depth_m: zone.depthM,
          wall_m: zone.wallM,
          dry_to_mm:
            this.#dryBefore[wallsOf(this.#hollows).findIndex((wall) => wall.id === id)] ?? 0,
          at: plan.frame.toLngLat(cellCentre(elevation.grid, pit)),
          doubtful: this.#doubtful[i],
        };
      }),
    );
  }

  /** Spot heights where a finding may be no more than the elevation's error, or where the best may not dry it for that. */
  #measureFirst(findings: readonly FindingRow[], best: Proposal | undefined): MeasureFirst[] {
    const units = this.#question.plan.plan.lotfall.units ?? 'metric';
    return findings.flatMap(({ id, name, at, doubtful, building, depth_m }): MeasureFirst[] => {
      const left = best?.certainty?.walls.find((wall) => wall.building === building)?.probability;
      if (doubtful) {
        return [
          {
            finding: id,
            because: `The water near ${name} that is ${formatLength(depth_m, units)} deep is no deeper than the heights may be off: measure spot heights at the wall, in the low spot and at its way out before anything is dug.`,
            at: [at],
          },
        ];
      }
      if (left === undefined || left.after < unsureFrom) return [];
      return [
        {
          finding: id,
          because: `With the best proposal the wall of ${name} is still wet on ${Math.round(100 * left.after)} % of the surfaces that are as likely as this one (now ${Math.round(100 * left.before)} %): the error of the heights is as large as what the remedy does. Spot heights along the wall, to a centimetre or two, would settle it.`,
          at: [at],
        },
      ];
    });
  }

  #notes(proposals: readonly Proposal[]): string[] {
    const { plan, elevation } = this.#question;
    if (this.#hollows.length === 0) {
      return [
        'No water stands within 3.05 m of a building on the lot in this event: there is nothing to dry.',
      ];
    }
    // Whether there is a sewer to drain into nobody knows here.
    const byOwnMeans = proposals.filter(
      ({ parts }) => !parts.some(({ ends_in }) => ends_in?.to === 'storm-sewer'),
    );
    const lawful = byOwnMeans.filter(
      ({ mark, lawful: verdict }) => mark === 'dries' && verdict !== 'fail',
    );
    return [
      ...(lawful.length > 0 ? [] : [nothingHelps(byOwnMeans)]),
      ...notJudged(elevation.grid, plan)
        .filter(({ kind }) => kind === 'building')
        .map(
          ({ name }) =>
            `${name} lies at the edge of the elevation or beyond: its walls are not judged.`,
        ),
    ];
  }
}

/** An event in words. */
function rain({ kind, rainMm, settings }: TrialEvent): string {
  return kind === 'thaw' ? 'the thaw' : `${formatRain(rainMm, settings.units ?? 'metric')} of rain`;
}

/** What binds where nothing lawful dries a wall. */
function nothingHelps(proposals: readonly Proposal[]): string {
  const drying = proposals.filter(({ mark }) => mark === 'dries');
  if (drying.length === 0) {
    return 'Nothing that was tried dries a wall, unless there is a storm sewer to drain into: no way falls from the low spot to a lawful end, and filling or grading only moves the water. Lower ground to lead it to, a neighbour’s leave or a pump would change that; ask a drainage contractor.';
  }
  const binds = drying[0].rules.filter(({ result }) => result === 'fail').map(({ why }) => why);
  return `What dries a wall, unless there is a storm sewer to drain into, breaks a rule. ${binds.join(' ')} More room to hold the water, or the leave of whom it goes to, would change that.`;
}

/** Rules that no other part can mend. */
function isOfPlace({ rule, result }: Proposal['rules'][number]): boolean {
  return result === 'fail' && rule !== 'sends-more' && rule !== 'upper-water';
}

function sumM3({ outcomes }: Trial): number {
  return outcomes[0].zones.reduce((sum, { volumeM3 }) => sum + volumeM3, 0);
}

function refuseUnfit({ plan, elevation, building }: RemediesQuestion): void {
  const own = plan.of.building.filter(
    ({ shape }) => homeLot(plan, shape.rings[0])?.feature.properties.own === true,
  );
  if (own.length === 0) {
    throw new InputError({
      code: 'remedies-no-building',
      where: 'the plan',
      problem: 'no building stands on the lot, so there is no wall to keep dry',
      remedy: 'draw the house',
    });
  }
  if (building !== undefined && !own.some(({ id }) => id === building)) {
    throw new InputError({
      code: 'remedies-building',
      where: 'the plan',
      problem: `there is no building '${building}' on the lot`,
      remedy: `name one of ${own.map(({ id }) => id).join(', ')}`,
    });
  }
  const coarse = elevation.notes.find(({ refusesSiting }) => refusesSiting === true);
  if (coarse !== undefined) {
    throw new InputError({
      code: 'remedies-coarse',
      where: elevation.source,
      problem: 'its cells are coarser than a hollow at a wall',
      remedy: 'take lidar of half a metre or a metre, or measure spot heights around the house',
    });
  }
  const unread = new Set(notJudged(elevation.grid, plan).map(({ feature }) => feature));
  if (own.every(({ id }) => unread.has(id))) {
    throw new InputError({
      code: 'remedies-edge',
      where: elevation.source,
      problem: 'the heights end at the building, so that its walls cannot be judged',
      remedy: 'take an elevation that reaches at least 60 m beyond the lot',
    });
  }
}

import { beforeAll, describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { InputError } from '../../../lib/errors';
import { asFeature } from '../../../lib/plan/as-feature';
import { applyChange } from '../../../lib/plan/change';
import { writePlan } from '../../../lib/plan/write-plan';
import type { Proposal, RemediesResult } from '../../../lib/remedies/remedies-result';
import { box, pointOf, polygonOf } from '../ground/plane-lot';
import { searched, surveyOf, surveyWith, wetLot } from './wet-lot';

describe('what would dry a wall', () => {
  const survey = surveyOf(wetLot);
  let result: RemediesResult;
  let told: Proposal[];
  beforeAll(() => {
    ({ result, told } = searched(survey));
  });

  it('finds the water at the wall', () => {
    expect(result.findings).toHaveLength(1);
    expect(result.findings[0]).toMatchObject({ building: 'house', doubtful: false });
    expect(result.findings[0].wall_m).toBeGreaterThan(3);
  });

  it('proposes something that dries it, the best first, and tells each as it comes', () => {
    expect(result.proposals.length).toBeGreaterThan(2);
    expect(result.proposals[0].mark).toBe('dries');
    expect(result.proposals.map(({ rank }) => rank)).toEqual(result.proposals.map((_, i) => i + 1));
    const ids = new Set(told.map(({ id }) => id));
    for (const { id } of result.proposals) expect(ids).toContain(id);
    const failing = result.proposals.findIndex(({ lawful }) => lawful === 'fail');
    if (failing !== -1) {
      for (const { lawful } of result.proposals.slice(failing)) expect(lawful).toBe('fail');
    }
  });

  it('gives, poured anew, what it states', () => {
    for (const proposal of result.proposals) {
      const { plan } = applyChange(survey.plan.plan, proposal.change);
      const after = surveyWith(survey, plan);
      const storm = stormOnGround(after.shape, after.plan, 40);
      const answer = drainLot(after.shape, storm, after.plan, { crs: 'local' });
      const [row] = proposal.storms;
      answer.buildings.forEach((building, i) => {
        expect(row.buildings[i].volume_m3.after).toBeCloseTo(building.volume_m3, 9);
        expect(row.buildings[i].wall_m.after).toBeCloseTo(building.wall_m, 9);
      });
      for (const { to, volume_m3 } of row.sent) {
        const share = answer.ledger?.passed_on_to.find(({ lot }) => lot === to);
        expect(volume_m3.after).toBeCloseTo(share?.volume_m3 ?? 0, 9);
      }
      expect(answer.ledger?.error_m3).toBeCloseTo(0, 9);
    }
  });

  it('is one change of the plan that can be undone to the byte, of features that the plan knows', () => {
    const before = writePlan(survey.plan.plan);
    for (const { change } of result.proposals) {
      for (const feature of change.puts ?? []) expect(asFeature(feature)).not.toBeNull();
      const { plan, inverse } = applyChange(survey.plan.plan, change);
      expect(writePlan(plan)).not.toBe(before);
      expect(writePlan(applyChange(plan, inverse).plan)).toBe(before);
    }
  });

  it('says where a neighbour or another wall gets more', () => {
    for (const { storms, rules } of result.proposals) {
      const fails = rules.some(({ result: is }) => is === 'fail');
      for (const { sent, buildings } of storms) {
        for (const { to, volume_m3 } of sent) {
          if (to === null) continue;
          if (volume_m3.after - volume_m3.before > 0.2) expect(fails).toBe(true);
        }
        for (const { volume_m3 } of buildings) {
          if (volume_m3.after - volume_m3.before > 0.2) expect(fails).toBe(true);
        }
      }
    }
  });

  it('finds room for a garden that holds what it sends on, beside a sewer that is only to be asked for', () => {
    const lawful = result.proposals.filter(
      ({ mark, lawful: is }) => mark === 'dries' && is !== 'fail',
    );
    expect(lawful.map(({ id }) => id)).toContain('drain-to-sewer');
    for (const { id, parts } of lawful) {
      expect(id === 'drain-to-sewer' || parts.some(({ key }) => /^new-garden/.test(key))).toBe(
        true,
      );
    }
  });

  it('says what binds where there is no room, and nothing but a sewer dries the wall lawfully', () => {
    const well = pointOf('well', [34, 16], { kind: 'well' });
    const found = searched(surveyOf([...wetLot, well]), { stormsMm: [] }).result;
    const lawful = found.proposals.filter(
      ({ mark, lawful: is }) => mark === 'dries' && is !== 'fail',
    );
    expect(lawful.map(({ id }) => id)).toEqual(['drain-to-sewer']);
    expect(found.notes.join(' ')).toMatch(/breaks a rule\. It sends Below .* more/);
  });

  it('names what it does not judge, and what it refused with a reason', () => {
    expect(result.not_judged.map(({ remedy }) => remedy)).toContain('French drain');
    for (const { because } of result.refused) expect(because).toMatch(/^\S.*\.$/);
  });
});

describe('a lot with nothing wrong', () => {
  it('gets no proposals, and is told so', () => {
    const { result } = searched(surveyOf(wetLot, (x) => 8 - 0.03 * x));
    expect(result.proposals).toEqual([]);
    expect(result.findings).toEqual([]);
    expect(result.notes.join()).toMatch(/nothing to dry/);
  });

  it('is what a plan is with its remedy in it', () => {
    const survey = surveyOf(wetLot);
    const { result } = searched(survey, { stormsMm: [] });
    const [best] = result.proposals;
    const { plan } = applyChange(survey.plan.plan, best.change);
    const again = searched(surveyWith(survey, plan), { stormsMm: [] });
    expect(again.result.findings).toEqual([]);
    expect(again.result.proposals).toEqual([]);
  });
});

describe('a question that cannot be answered', () => {
  const asked = (features: typeof wetLot, more: object = {}) => {
    try {
      searched(surveyOf(features), more);
    } catch (error) {
      if (error instanceof InputError) return error.code;
      throw error;
    }
    return 'answered';
  };

  it('is refused in a sentence', () => {
    expect(asked(wetLot.slice(0, 3))).toBe('remedies-no-building');
    expect(asked(wetLot, { building: 'barn' })).toBe('remedies-building');
    const edge = polygonOf('house', box(20, 26, 27, 36), { kind: 'building' });
    expect(asked([...wetLot.slice(0, 3), edge])).toBe('remedies-edge');
  });
});

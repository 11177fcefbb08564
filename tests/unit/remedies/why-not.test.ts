import { describe, expect, it } from 'vitest';
import { whyNot, whyNotQuestion, whyNotWords } from '../../../lib/remedies/why-not';
import { searched, surveyOf, wetLot } from './wet-lot';

const survey = surveyOf(wetLot);
const { result } = searched(survey, { stormsMm: [] });

/** The answer to a question in words. */
function asked(remedy: string, to: string | null = null) {
  const question = whyNotQuestion(remedy, to, survey.plan.plan.features);
  return question === null ? null : whyNot(result, question);
}

describe('why not', () => {
  it('names the place of what is proposed, what binds it and what would settle that', () => {
    const answer = asked('swale', 'lawn')!;
    expect(answer.found).toBe('proposed');
    expect(result.proposals.find(({ id }) => id === answer.proposal)?.rank).toBe(answer.rank);
    const proposal = result.proposals.find(({ id }) => id === answer.proposal)!;
    const open = proposal.rules.filter(({ result: is }) => is !== 'pass').map(({ why }) => why);
    expect(answer.binds.map(({ why }) => why)).toEqual(expect.arrayContaining(open));
    expect(answer.lawful).toBe('fail');
    expect(whyNotWords(answer).join(' ')).toMatch(
      /in place \d+, but breaks a rule\..* sends Below .* more.*What would have to change: .*Room that holds back/,
    );
  });

  it('says that a sewer is only to be asked for', () => {
    const answer = asked('pipe', 'sewer')!;
    expect(answer.lawful).toBe('check');
    expect(whyNotWords(answer).join(' ')).toMatch(/Leave in writing/);
  });

  it('gives the reason of what was tried in vain, and what would have to change', () => {
    expect(result.refused.length).toBeGreaterThan(0);
    for (const { because, would_change } of result.refused) {
      expect(because).toMatch(/\.$/);
      expect(would_change).toMatch(/^\S.*\.$/);
    }
    const answer = asked('berm')!;
    expect(['refused', 'not-there', 'proposed']).toContain(answer.found);
    expect(answer.binds.length + (answer.found === 'proposed' ? 1 : 0)).toBeGreaterThan(0);
  });

  it('knows what is not there to be tried, and no word that is no remedy or end', () => {
    expect(asked('sump')?.found).toBe('not-there');
    expect(asked('pump')).toBeNull();
    expect(asked('swale', 'moon')).toBeNull();
    expect(asked('swale', 'House')?.to).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import type { Kind } from '../../../../lib/plan/schema';
import { nextStep, type Known } from '../../../../src/app/state/guide/next-step';
import type { Question } from '../../../../src/app/state/session/session.svelte';

const questions: readonly Question[] = ['here', 'water', 'place', 'dig', 'handover'];

/** A lot with everything drawn and answered, but for what the test says otherwise. */
function knownBut(but: Partial<Known>, none: readonly Kind[] = []): Known {
  return {
    hasElevation: true,
    hasLevels: false,
    isReached: true,
    isTooCoarse: false,
    count: (kind) => (none.includes(kind) ? 0 : 1),
    unlocated: 0,
    wet: [],
    isSureness: true,
    rules: { broken: 0, open: 0 },
    drains: 'in-time',
    isAstray: false,
    ...but,
  };
}

const acts = (known: Known) => questions.map((question) => nextStep(question, known).act);

describe('the next step', () => {
  it('is heights, then the lot line, under every question', () => {
    const bare = knownBut({ hasElevation: false, isReached: false }, ['lot', 'spot-height']);
    const isFile = questions.map(() => ({ does: 'open-elevation' }));
    expect(acts(bare)).toEqual(isFile);
    for (const question of questions) {
      expect(nextStep(question, bare).says).toMatch(/height file.*levels/);
      expect(nextStep(question, bare).or?.act).toEqual({ does: 'draw', kind: 'spot-height' });
    }
    const isLot = acts(knownBut({ isReached: false }, ['lot', 'building', 'basin']));
    expect(isLot).toEqual(questions.map(() => ({ does: 'draw', kind: 'lot' })));
    expect(acts(knownBut({ isReached: false }))).toEqual(isFile);
  });

  it('goes on with levels that are set, and makes a ground of them once they are enough', () => {
    const few = knownBut({ hasElevation: false });
    expect(nextStep('water', few)).toMatchObject({
      says: 'A ground needs three levels with their readings: one is set.',
      act: { does: 'draw', kind: 'spot-height' },
      or: { act: { does: 'open-elevation' } },
    });
    expect(acts(knownBut({ hasElevation: false, hasLevels: true }))).toEqual(
      questions.map(() => ({ does: 'make-level-ground' })),
    );
  });

  it('is finer heights where the cells cannot show a yard, or a ground of levels that are there', () => {
    const coarse = nextStep('water', knownBut({ isTooCoarse: true }));
    expect(coarse.says).toContain('cannot show a yard');
    expect(coarse.or?.act).toEqual({ does: 'draw', kind: 'spot-height' });
    expect(nextStep('water', knownBut({ isTooCoarse: true, hasLevels: true })).act).toEqual({
      does: 'make-level-ground',
    });
  });

  it('follows the order in which a lot is drawn', () => {
    const kinds: Kind[] = ['building', 'roof', 'downspout', 'utility', 'soil-test'];
    for (const [i, kind] of kinds.entries()) {
      const { act } = nextStep('here', knownBut({}, kinds.slice(i)));
      expect(act).toEqual({ does: 'draw', kind });
    }
    expect(nextStep('here', knownBut({ unlocated: 2 })).says).toContain('2 buried lines');
    expect(nextStep('here', knownBut({ unlocated: 1 })).says).toContain('1 buried line nobody');
    expect(nextStep('here', knownBut({})).act).toEqual({ does: 'ask', question: 'water' });
  });

  it('asks how sure the water is before a place is looked for', () => {
    const wet = knownBut({ isSureness: false, wet: ['House', 'Garage'] });
    expect(nextStep('water', wet)).toMatchObject({
      says: 'Heights have errors: see how sure the water by House and Garage is.',
      act: { does: 'try-surfaces' },
    });
    expect(nextStep('water', knownBut({})).act).toEqual({ does: 'ask', question: 'place' });
  });

  it('looks for a place, mends what is broken, then asks what is open', () => {
    const place = (but: Partial<Known>, none: Kind[] = []) =>
      nextStep('place', knownBut(but, none)).act;
    expect(place({ rules: null }, ['basin'])).toEqual({ does: 'find-places' });
    expect(place({ rules: { broken: 1, open: 3 } })).toEqual({ does: 'take-basin' });
    expect(place({ rules: { broken: 0, open: 3 } })).toEqual({ does: 'ask', question: 'handover' });
    expect(place({})).toEqual({ does: 'ask', question: 'dig' });
  });

  it('says what keeps a basin from being dug', () => {
    const dig = (but: Partial<Known>, none: Kind[] = []) => nextStep('dig', knownBut(but, none));
    expect(dig({}, ['basin']).act).toEqual({ does: 'ask', question: 'place' });
    expect(dig({ drains: 'unknown' }, ['soil-test']).act).toEqual({
      does: 'draw',
      kind: 'soil-test',
    });
    expect(dig({ drains: 'too-slow', isAstray: true }).says).toContain('stands too long');
    expect(dig({ isAstray: true }).says).toContain('overflow');
    expect(dig({}).act).toEqual({ does: 'ask', question: 'handover' });
    expect(nextStep('handover', knownBut({ unlocated: 1 })).says).toContain('Ask for the lines');
    expect(nextStep('handover', knownBut({})).act).toEqual({ does: 'save-plan' });
  });
});

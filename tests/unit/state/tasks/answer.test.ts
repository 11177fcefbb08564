import { beforeEach, describe, expect, it } from 'vitest';
import { Answer } from '../../../../src/app/state/tasks/answer.svelte';

let answer: Answer<string, number>;
beforeEach(() => {
  answer = new Answer();
});

describe('an answer', () => {
  it('stays with its own question while the next is worked on', () => {
    answer.take(answer.ask('first'), 1);
    answer.ask('second');
    expect([answer.value, answer.of, answer.asked]).toEqual([1, 'first', 'second']);
    expect([answer.isOpen, answer.current]).toEqual([true, 1]);
  });

  it('is left open when the last question ended without one', () => {
    answer.take(answer.ask('first'), 1);
    answer.end(answer.ask('second'));
    expect([answer.isLeftOpen, answer.value, answer.current]).toEqual([true, 1, null]);
  });

  it('that comes late does not take the place of one to a later question', () => {
    const [first, second] = [answer.ask('first'), answer.ask('second')];
    expect(answer.take(second, 2)).toBe(true);
    expect(answer.take(first, 1)).toBe(false);
    expect([answer.value, answer.of]).toEqual([2, 'second']);
  });

  it('to a question that was forgotten is not taken, one to a question put since is', () => {
    const before = answer.ask('before');
    answer.forget();
    expect([answer.take(before, 1), answer.value]).toEqual([false, null]);
    expect([answer.take(answer.ask('since'), 2), answer.value]).toEqual([true, 2]);
  });

  it('may hold for another question as well', () => {
    answer.holdsFor('nothing answered yet');
    expect(answer.asked).toBeNull();
    answer.take(answer.ask('first'), 1);
    answer.holdsFor('second');
    expect([answer.value, answer.of, answer.isOpen]).toEqual([1, 'second', false]);
  });
});

import { describe, expect, it } from 'vitest';
import { stops, Walk, type WalkKeep } from '../../../../src/app/state/guide/walk.svelte';

/** What a browser keeps, as the test holds it. */
function keepOf(text: string | null): WalkKeep & { text: string | null } {
  return {
    text,
    read() {
      return this.text;
    },
    write(next) {
      this.text = next;
    },
  };
}

describe('the walk round the demo lot', () => {
  it('has a stop at each question, short enough to be read at a glance', () => {
    expect(stops.map(({ question }) => question)).toEqual([
      'here',
      'water',
      'place',
      'dig',
      'handover',
    ]);
    for (const { says, seen } of stops) {
      expect(says.length).toBeLessThanOrEqual(120);
      expect(seen.length).toBeLessThanOrEqual(100);
    }
  });

  it('is found again where it was left', () => {
    const keep = keepOf(null);
    const walk = new Walk(keep);
    expect(walk.isLeft).toBe(false);
    walk.go(2);
    walk.leave();
    const later = new Walk(keep);
    expect([later.at, later.isLeft]).toEqual([2, true]);
    later.findAgain();
    expect([new Walk(keep).at, new Walk(keep).isLeft]).toEqual([2, false]);
  });

  it('is over after its last stop, and begins anew', () => {
    const keep = keepOf(null);
    const walk = new Walk(keep);
    walk.go(4);
    walk.go(5);
    expect([walk.at, walk.isLeft]).toEqual([0, true]);
    walk.go(-1);
    expect(walk.at).toBe(0);
  });

  it.each(['', 'walk', '7', 'null', '{"at":9}', '{"at":"1"}', '{"at":1.5,"isLeft":true}'])(
    'begins at its start where %j was kept',
    (text) => {
      const walk = new Walk(keepOf(text));
      expect([walk.at, walk.isLeft]).toEqual([0, false]);
    },
  );
});

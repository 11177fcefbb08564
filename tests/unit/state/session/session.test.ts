import { beforeEach, describe, expect, it } from 'vitest';
import type { LngLat } from '../../../../lib/frame/frame';
import { SessionStore, type Session } from '../../../../src/app/state/session/session.svelte';
import type { PlacedOutline } from '../../../../src/app/state/session/tool';

const corners: readonly LngLat[] = [
  [1, 1],
  [2, 1],
];
const outline: PlacedOutline = { form: 'oval', lengthM: 6, widthM: 4, turnRad: 0, centre: null };

let session: Session;
beforeEach(() => {
  session = new SessionStore();
});

describe('a feature that is half drawn', () => {
  it('is what has corners, with the tool that it was begun with', () => {
    session.begin(corners);
    expect(session.halfDrawn).toBeNull();
    session.take({ draw: 'roof' });
    expect(session.halfDrawn).toBeNull();
    session.begin(corners);
    expect(session.halfDrawn).toEqual({ kind: 'roof', corners, outline: null });
    session.take({ draw: 'lot' });
    expect(session.halfDrawn).toBeNull();
  });

  it('stays the same object while its corners do', () => {
    session.take({ draw: 'roof' });
    session.begin(corners);
    const before = session.halfDrawn;
    session.begin(corners.map(([lng, lat]): LngLat => [lng, lat]));
    expect(session.halfDrawn?.corners).toBe(before?.corners);
  });

  it('is an outline only once that lies somewhere', () => {
    session.take({ draw: 'basin', outline });
    expect(session.halfDrawn).toBeNull();
    session.place({ ...outline, centre: [1, 1] });
    expect(session.halfDrawn).toEqual({
      kind: 'basin',
      corners: [],
      outline: { ...outline, centre: [1, 1] },
    });
  });

  it('is gone on with as it was', () => {
    const drawing = { kind: 'roof', corners, outline: null } as const;
    session.goOnDrawing(drawing);
    expect([session.halfDrawn, session.question]).toEqual([drawing, 'here']);
  });
});

describe('what is looked at', () => {
  it('goes with the plan that it was of, and a feature half drawn on it', () => {
    session.select('roof-1');
    session.pick({ kind: 'site', id: '1' });
    session.probe([1, 1]);
    session.take({ draw: 'roof' });
    session.deselect();
    expect([session.selectedId, session.picked, session.probeAt, session.tool]).toEqual([
      null,
      null,
      null,
      'edit',
    ]);
  });

  it('leaves the probe in hand', () => {
    session.toggle('probe', 'none');
    session.deselect();
    expect(session.tool).toBe('probe');
    session.toggle('probe', 'none');
    expect(session.tool).toBe('none');
  });

  it('takes no outline with another tool in hand', () => {
    session.place(outline);
    expect(session.tool).toBe('edit');
  });

  it('shows some layers more, and leaves the others', () => {
    session.show({ probability: true, flow: false });
    const { probability, flow, contours, toBasin } = session.shown;
    expect([probability, flow, contours, toBasin]).toEqual([true, false, true, false]);
  });
});

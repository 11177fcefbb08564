import { beforeEach, describe, expect, it } from 'vitest';
import {
  bearingOf,
  OwnPlace,
  type Device,
} from '../../../../src/app/state/session/own-place.svelte';
import { viewOfOwnPlace } from '../../../../src/app/sheet/own-place-view';
import { nearestHeight } from '../../../../src/app/state/session/pulled-height';

type Found = (position: GeolocationPosition) => void;
type Failed = (error: GeolocationPositionError) => void;

/** A device that finds what the test says. */
class TestDevice implements Device {
  found: Found = () => undefined;
  failed: Failed = () => undefined;
  heard: (bearingDeg: number) => void = () => undefined;
  watched = 0;
  compasses = 0;
  readonly geolocation = {
    watchPosition: (found: Found, failed?: Failed | null) => {
      this.found = found;
      this.failed = failed ?? (() => undefined);
      this.watched++;
      return 7;
    },
    clearWatch: (id: number) => {
      if (id === 7) this.watched--;
    },
  };

  hearCompass(heard: (bearingDeg: number) => void): () => void {
    this.heard = heard;
    this.compasses++;
    return () => {
      this.compasses--;
    };
  }

  stand(longitude: number, latitude: number, accuracy: number): void {
    this.found({ coords: { longitude, latitude, accuracy } } as GeolocationPosition);
  }
}

let device: TestDevice;
let own: OwnPlace;
beforeEach(() => {
  device = new TestDevice();
  own = new OwnPlace(device);
});

describe('the own place', () => {
  it('is asked for by nobody but the button, followed, and forgotten with all its ears', () => {
    expect(device.watched).toBe(0);
    own.toggle();
    expect([own.isOn, own.fix, device.watched, device.compasses]).toEqual([true, null, 1, 1]);
    device.stand(-87, 42, 4.2);
    device.heard(90);
    expect(own.fix).toEqual({ at: [-87, 42], accuracyM: 4.2 });
    expect(own.bearingDeg).toBe(90);
    own.toggle();
    expect([own.isOn, own.fix, own.bearingDeg]).toEqual([false, null, null]);
    expect([device.watched, device.compasses]).toEqual([0, 0]);
  });

  it.each([
    [1, 'was not given'],
    [2, 'was not found'],
    [3, 'was not found'],
  ])('says in a sentence why there is none (%i)', (code, sentence) => {
    own.begin();
    device.failed({ code } as GeolocationPositionError);
    expect(own.fault).toContain(sentence);
    expect([own.isOn, device.watched]).toEqual([false, 0]);
    own.begin();
    expect(own.fault).toBeNull();
  });

  it('says so where the browser knows no places', () => {
    const none = new OwnPlace({ geolocation: undefined, hearCompass: () => null });
    none.toggle();
    expect(none.fault).toContain('cannot find where you are');
    expect(none.isOn).toBe(false);
  });
});

describe('the compass', () => {
  it('is read clockwise from north, and only where it knows north', () => {
    expect(bearingOf({ absolute: true, alpha: 90 })).toBe(270);
    expect(bearingOf({ absolute: true, alpha: 0 })).toBe(0);
    expect(bearingOf({ absolute: false, alpha: 90 })).toBeNull();
    expect(bearingOf({ absolute: true, alpha: null })).toBeNull();
    expect(bearingOf({ webkitCompassHeading: 12, alpha: 90 })).toBe(12);
  });
});

describe('what is done to see the own place', () => {
  const home = [-87.001, 42, -87, 42.001] as const;

  it('is nothing on the lot, a look beside it, and a word where it is far', () => {
    expect(viewOfOwnPlace([-87.0005, 42.0005], home)).toBeNull();
    const beside = viewOfOwnPlace([-86.999, 42.0005], home);
    expect(beside).toHaveLength(4);
    expect(viewOfOwnPlace([-86.9, 42.0005], home)).toBeGreaterThan(8000);
    expect(viewOfOwnPlace([-86.9, 42.0005], null)).toHaveLength(4);
  });
});

describe('the height at which a dragged sheet rests', () => {
  it.each([
    [0.1, 'low'],
    [0.38, 'low'],
    [0.4, 'middle'],
    [0.62, 'middle'],
    [0.64, 'high'],
    [0.9, 'high'],
  ])('at %f is %s', (share, height) => {
    expect(nearestHeight(share)).toBe(height);
  });
});

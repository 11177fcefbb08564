import type { LngLat } from '../../../../lib/frame/frame';

/** Where somebody stands, as the device finds it. */
export interface Fix {
  readonly at: LngLat;
  /** Radius within which the place lies with 95 % confidence (W3C, Geolocation, accuracy attribute; from memory), metres. */
  readonly accuracyM: number;
}

/** What of the device is asked; absent parts are not there. */
export interface Device {
  readonly geolocation: Pick<Geolocation, 'watchPosition' | 'clearWatch'> | undefined;
  /** Hears the compass: degrees clockwise from north. Returns what stops hearing it; null where there is none. */
  hearCompass(heard: (bearingDeg: number) => void): (() => void) | null;
}

/**
 * Where the user stands, asked for by a button and followed until it is pressed again. It is held in memory alone:
 * nothing of it is kept unless it is taken into the plan.
 */
export class OwnPlace {
  readonly #device: Device;
  fix = $state.raw<Fix | null>(null);
  /** Where the device points, degrees clockwise from north; null without a compass. */
  bearingDeg = $state<number | null>(null);
  isOn = $state(false);
  /** Why there is no place, as one sentence. */
  fault = $state<string | null>(null);
  #stop: (() => void) | null = null;

  constructor(device: Device) {
    this.#device = device;
  }

  toggle(): void {
    if (this.isOn) this.end();
    else this.begin();
  }

  begin(): void {
    const { geolocation } = this.#device;
    this.fault = null;
    if (geolocation === undefined) {
      this.fault = 'This browser cannot find where you are: set places on the map by hand.';
      return;
    }
    this.isOn = true;
    const watch = geolocation.watchPosition(
      ({ coords: { longitude, latitude, accuracy } }) => {
        this.fix = { at: [longitude, latitude], accuracyM: accuracy };
      },
      (error) => {
        this.end();
        this.fault =
          error.code === refused
            ? 'Your place was not given: allow it in the browser’s settings for this page, then press again.'
            : 'Your place was not found: go where the sky is open, then press again.';
      },
      { enableHighAccuracy: true, maximumAge: 2000, timeout: 60_000 },
    );
    const deafen = this.#device.hearCompass((bearingDeg) => {
      this.bearingDeg = bearingDeg;
    });
    this.#stop = () => {
      geolocation.clearWatch(watch);
      deafen?.();
    };
  }

  /** Forgets it. */
  end(): void {
    this.#stop?.();
    this.#stop = null;
    this.isOn = false;
    this.fix = null;
    this.bearingDeg = null;
  }
}

/** `GeolocationPositionError.PERMISSION_DENIED`. */
const refused = 1;

/** A compass as browsers give it: by an event of their own, or by the turn of the device from north. */
interface Turned extends Event {
  readonly absolute?: boolean;
  readonly alpha?: number | null;
  readonly webkitCompassHeading?: number;
}

/** Degrees clockwise from north that an event tells; null where it tells none. */
export function bearingOf({
  absolute,
  alpha,
  webkitCompassHeading,
}: Partial<Turned>): number | null {
  if (webkitCompassHeading !== undefined) return webkitCompassHeading;
  if (absolute !== true || alpha === null || alpha === undefined) return null;
  // The turn is counter-clockwise.
  return (360 - alpha) % 360;
}

/** This browser's device. */
export function browserDevice(): Device {
  return {
    geolocation: 'geolocation' in navigator ? navigator.geolocation : undefined,
    hearCompass: (heard) => {
      if (typeof DeviceOrientationEvent === 'undefined') return null;
      const hear = (event: Event): void => {
        const bearingDeg = bearingOf(event);
        if (bearingDeg !== null) heard(bearingDeg);
      };
      const names = ['deviceorientationabsolute', 'deviceorientation'];
      for (const name of names) addEventListener(name, hear);
      // Some ask the user first.
      const asking = DeviceOrientationEvent as { requestPermission?: () => Promise<string> };
      void asking.requestPermission?.().catch(() => 'denied');
      return () => {
        for (const name of names) removeEventListener(name, hear);
      };
    },
  };
}

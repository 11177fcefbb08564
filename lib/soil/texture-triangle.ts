import { InputError } from '../errors';
import type { UsdaTexture } from '../plan/soil-settings';

/** Shares of the fine earth by weight, per cent. */
export interface Particles {
  readonly sand: number;
  readonly silt: number;
  readonly clay: number;
}

/**
 * The twelve classes as conditions of which exactly one holds anywhere in the triangle.
 * Source: `textureBoundaries`.
 */
export const textureClasses: readonly {
  readonly texture: UsdaTexture;
  readonly holds: (particles: Particles) => boolean;
}[] = [
  { texture: 'sand', holds: ({ silt, clay }) => silt + 1.5 * clay < 15 },
  {
    texture: 'loamy-sand',
    holds: ({ silt, clay }) => silt + 1.5 * clay >= 15 && silt + 2 * clay < 30,
  },
  {
    texture: 'sandy-loam',
    holds: ({ sand, silt, clay }) =>
      silt + 2 * clay >= 30 && ((clay >= 7 && clay < 20 && sand > 52) || (clay < 7 && silt < 50)),
  },
  {
    texture: 'loam',
    holds: ({ sand, silt, clay }) =>
      clay >= 7 && clay < 27 && silt >= 28 && silt < 50 && sand <= 52,
  },
  {
    texture: 'silt-loam',
    holds: ({ silt, clay }) =>
      silt >= 50 && ((clay >= 12 && clay < 27) || (silt < 80 && clay < 12)),
  },
  { texture: 'silt', holds: ({ silt, clay }) => silt >= 80 && clay < 12 },
  {
    texture: 'sandy-clay-loam',
    holds: ({ sand, silt, clay }) => clay >= 20 && clay < 35 && silt < 28 && sand > 45,
  },
  {
    texture: 'clay-loam',
    holds: ({ sand, clay }) => clay >= 27 && clay < 40 && sand > 20 && sand <= 45,
  },
  {
    texture: 'silty-clay-loam',
    holds: ({ sand, clay }) => clay >= 27 && clay < 40 && sand <= 20,
  },
  { texture: 'sandy-clay', holds: ({ sand, clay }) => clay >= 35 && sand > 45 },
  { texture: 'silty-clay', holds: ({ silt, clay }) => clay >= 40 && silt >= 40 },
  {
    texture: 'clay',
    holds: ({ sand, silt, clay }) => clay >= 40 && sand <= 45 && silt < 40,
  },
];

/** How far the three may miss 100 %, as figures rounded one by one do. */
const slackPercent = 1.5;

/**
 * The texture class of a soil by its particles. What misses 100 % by rounding is put on or taken off all three
 * in proportion. @throws {InputError} `particles-not-whole` when they do not add up.
 */
export function textureOf(particles: Particles): UsdaTexture {
  const { sand, silt, clay } = particles;
  const sum = sand + silt + clay;
  if (!(Math.min(sand, silt, clay) >= 0) || !(Math.abs(sum - 100) <= slackPercent)) {
    throw new InputError({
      code: 'particles-not-whole',
      where: 'sand, silt and clay',
      problem:
        Math.min(sand, silt, clay) < 0
          ? 'a share is below zero'
          : `${sand} %, ${silt} % and ${clay} % add up to ${Number(sum.toFixed(1))} %, expected 100 %`,
      remedy: 'give the shares of the fine earth, without stones, as the laboratory reports them',
    });
  }
  // Three exact numbers stay as they are: scaling by 100 / 100 must not move one over a boundary.
  const scale = sum === 100 ? 1 : 100 / sum;
  const whole = { sand: sand * scale, silt: silt * scale, clay: clay * scale };
  const found = textureClasses.find(({ holds }) => holds(whole));
  // Rounding at a corner where classes meet can leave all of them by a hair; the nearest is found a hair inwards.
  return found?.texture ?? textureClasses.find(({ holds }) => holds(inwards(whole)))!.texture;
}

function inwards({ sand, silt, clay }: Particles): Particles {
  const by = 1e-9;
  const move = (value: number): number => value + by * (100 / 3 - value);
  return { sand: move(sand), silt: move(silt), clay: move(clay) };
}

import { describe, expect, it } from 'vitest';
import { manningVelocityMPerS, sheetFlow } from '../../../lib/basin/overflow/erosion';
import {
  fillingUnderdrainM3PerS,
  orificeFlowM3PerS,
  underdrainFlowM3PerS,
} from '../../../lib/basin/form/orifice';
import {
  gravity,
  idealWeirCoefficient,
  sillVelocityMPerS,
  weirCoefficients,
  weirFlowM3PerS,
  weirHeadM,
  weirWidthM,
} from '../../../lib/basin/form/weir';
import { footM, inchM } from '../../../lib/units/units';

const cfs = footM ** 3;
/** A coefficient in feet and seconds. */
const us = (coefficient: number): number => coefficient * Math.sqrt(footM);

describe('the broad-crested weir', () => {
  it('passes 44.22 cfs over 20 ft at 0.8 ft with C 3.09 (exam solution, San Diego State University)', () => {
    expect(weirFlowM3PerS(us(3.09), 20 * footM, 0.8 * footM) / cfs).toBeCloseTo(44.22, 2);
  });

  // Algebra: C = (2/3)^1.5 sqrt(g).
  it('has an ideal C of 3.087 in feet and 1.705 in metres', () => {
    expect(idealWeirCoefficient).toBeCloseTo(1.705, 3);
    expect(idealWeirCoefficient / Math.sqrt(footM)).toBeCloseTo(3.087, 2);
  });

  // Worked by hand from Q = C L H^1.5: L = 0.1 / (3 x 0.1^1.5), Q = 2.6 x 2 x (1/6)^1.5.
  it('takes 1.05 ft of notch for 0.10 cfs at 0.10 ft, and 0.354 cfs go through 2 ft of grass at 2 in', () => {
    expect(weirWidthM(us(3), 0.1 * footM, 0.1 * cfs) / footM).toBeCloseTo(1.054, 3);
    const grass = weirCoefficients.grass.metric;
    expect(weirFlowM3PerS(grass, 2 * footM, 2 * inchM) / cfs).toBeCloseTo(0.354, 3);
  });

  it('gives head and width back for its flow', () => {
    const flow = weirFlowM3PerS(1.5, 0.8, 0.07);
    expect(weirHeadM(1.5, 0.8, flow)).toBeCloseTo(0.07, 12);
    expect(weirWidthM(1.5, 0.07, flow)).toBeCloseTo(0.8, 12);
  });

  it('runs at the velocity of critical flow: at two thirds of the head it carries the ideal flow', () => {
    const velocity = sillVelocityMPerS(0.12);
    expect(velocity * (2 / 3) * 0.12).toBeCloseTo(weirFlowM3PerS(idealWeirCoefficient, 1, 0.12), 9);
  });
});

describe('Manning', () => {
  // Worked by hand: A 0.6875 ft2, P 3.581 ft, R 0.192 ft, V = 1.486 / n R^(2/3) S^(1/2).
  it('has the velocities of a swale of 2 ft bottom, sides 3 : 1, 0.25 ft deep, falling 2 %', () => {
    const area = 0.25 * (2 + 3 * 0.25) * footM ** 2;
    const wetted = (2 + 2 * 0.25 * Math.hypot(1, 3)) * footM;
    const velocity = (n: number): number => manningVelocityMPerS(area / wetted, 0.02, n) / footM;
    expect(velocity(0.03)).toBeCloseTo(2.33, 2);
    expect(velocity(0.05)).toBeCloseTo(1.4, 2);
    expect(velocity(0.24)).toBeCloseTo(0.291, 3);
    expect((velocity(0.03) * area) / footM ** 2).toBeCloseTo(1.6, 2);
  });

  it('finds the depth at which a wide flow carries what it is given', () => {
    const { velocityMPerS, depthM } = sheetFlow(0.02, 1.5, 1 / 3, 0.03);
    expect(velocityMPerS * depthM * 1.5).toBeCloseTo(0.02, 12);
    expect(manningVelocityMPerS(depthM, 1 / 3, 0.03)).toBeCloseTo(velocityMPerS, 12);
  });
});

describe('the orifice of an underdrain', () => {
  // Torricelli with a discharge coefficient of 0.6 (hydraulics handbooks, from memory).
  it('is 0.6 times the area times the velocity of fall', () => {
    const flow = orificeFlowM3PerS(0.1, 0.5);
    expect(flow).toBeCloseTo(0.6 * Math.PI * 0.05 ** 2 * Math.sqrt(2 * gravity * 0.5), 12);
    expect(orificeFlowM3PerS(0.1, -0.1)).toBe(0);
  });

  it('counts the head over its middle, and no more than the stated capacity', () => {
    const pipe = { diameter_m: 0.1, height_m: 0.2 };
    expect(underdrainFlowM3PerS(pipe, 0.24)).toBe(0);
    // part full it goes as over a weir, from nothing at the invert to that of the full opening
    const full = underdrainFlowM3PerS(pipe, 0.3);
    expect(fillingUnderdrainM3PerS(pipe, 0.2)).toBe(0);
    expect(fillingUnderdrainM3PerS(pipe, 0.25) / full).toBeCloseTo(0.5 ** 1.5, 9);
    expect(fillingUnderdrainM3PerS(pipe, 0.3)).toBeCloseTo(full, 12);
    expect(fillingUnderdrainM3PerS(pipe, 0.75)).toBe(underdrainFlowM3PerS(pipe, 0.75));
    expect(underdrainFlowM3PerS(pipe, 0.75)).toBeCloseTo(orificeFlowM3PerS(0.1, 0.5), 12);
    expect(underdrainFlowM3PerS({ ...pipe, capacity_m3_per_h: 1.8 }, 0.75)).toBeCloseTo(0.0005, 12);
  });
});

import { describe, expect, it } from 'vitest';
import {
  gaugeScale,
  labelled,
  nextMark,
  tableMarks,
} from '../../../src/app/questions/water/storm/gauge-scale';
import { spillWords } from '../../../src/app/questions/water/storm/gauge-words';

describe('the scale of the gauge', () => {
  it('is ruled to 200 mm or 8 in, with figures at its long lines', () => {
    const metric = gaugeScale('metric', [40]);
    expect(metric.endMm).toBe(200);
    expect(metric.graduations.filter(({ text }) => text !== '').map(({ mm }) => mm)).toEqual([
      0, 50, 100, 150, 200,
    ]);
    const us = gaugeScale('us', [40]);
    expect(us.endMm).toBeCloseTo(203.2, 9);
    expect(us.graduations.filter(({ text }) => text !== '').map(({ text }) => text)).toEqual([
      '0',
      '2',
      '4',
      '6',
      '8',
    ]);
    expect(us.stepMm).toBeCloseTo(1.27, 9);
  });

  it('reaches a deeper storm, ruled more coarsely where lines would crowd', () => {
    expect(gaugeScale('metric', [201]).endMm).toBe(250);
    const deep = gaugeScale('metric', [1890]);
    expect(deep.endMm).toBeGreaterThanOrEqual(1890);
    expect(deep.graduations.filter(({ text }) => text !== '').length).toBeLessThanOrEqual(8);
  });
});

describe('marks of a rain table', () => {
  const table = {
    durations_min: [60, 1440],
    return_periods_y: [2, 10],
    depths_mm: [
      [30, 45],
      [60, 90],
    ],
  };

  it('are its depths for the length of the storm', () => {
    expect(tableMarks(table, 24)).toEqual([
      { years: 2, mm: 60 },
      { years: 10, mm: 90 },
    ]);
  });

  it('are none for a storm that outlasts it, or without a table', () => {
    expect(tableMarks(table, 25)).toEqual([]);
    expect(tableMarks(undefined, 24)).toEqual([]);
  });
});

describe('labels on the gauge', () => {
  const at = (x: number): number => x;

  it('stand over their marks where there is room, else a gap apart about them', () => {
    expect(labelled([10, 100], at, 20, [0, 200]).map(({ x }) => x)).toEqual([10, 100]);
    expect(labelled([52, 48, 150], at, 20, [0, 200]).map(({ x }) => x)).toEqual([40, 60, 150]);
  });

  it('stay within the scale', () => {
    expect(labelled([1, 2, 3], at, 20, [0, 200]).map(({ x }) => x)).toEqual([0, 20, 40]);
    expect(labelled([198, 199], at, 20, [0, 200]).map(({ x }) => x)).toEqual([180, 200]);
  });

  it('are shared where not all have room, and lose none', () => {
    const marks = Array.from({ length: 40 }, (_, i) => i * 5);
    const labels = labelled(marks, at, 20, [0, 200]);
    expect(labels.length).toBeLessThanOrEqual(11);
    expect(labels.flatMap((label) => label.marks)).toEqual(marks);
    labels.forEach(({ x }, i) => {
      if (i > 0) expect(x - labels[i - 1].x).toBeGreaterThanOrEqual(20 - 1e-9);
      expect(x).toBeLessThanOrEqual(200);
    });
  });
});

it('goes from mark to mark, and stays at the last', () => {
  expect(nextMark([17, 20, 36], 20, 1)).toBe(36);
  expect(nextMark([17, 20, 36], 20, -1)).toBe(17);
  expect(nextMark([17, 20, 36], 40, 1)).toBe(40);
});

it('says which low spots are full and which is next', () => {
  const marks = [
    { id: 'a', number: 4, mm: 17 },
    { id: 'b', number: 1, mm: 24.5 },
    { id: 'c', number: 3, mm: 36 },
  ];
  const rain = (mm: number): string => `${mm} mm`;
  expect(spillWords(marks, 10, rain)).toBe('no low spot is full; next is 4, from 17 mm');
  expect(spillWords(marks, 17, rain)).toBe(
    'low spot 4 is full and spills; next is 1, from 24.5 mm',
  );
  expect(spillWords(marks, 50, rain)).toBe('low spots 1, 3 and 4 are full and spill');
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { jsonFault } from '../../../lib/plan/json-fault';

describe('jsonFault', () => {
  const cases: [text: string, line: number, column: number, expected: string][] = [
    ['', 1, 1, 'a value'],
    ['{"a": 1,}', 1, 9, 'a name in double quotes'],
    ['{"a" 1}', 1, 6, "':'"],
    ['{\n  "a": [1, 2\n}', 3, 1, "a comma or ']'"],
    ['[1, 2,\n3,]', 2, 3, 'a value'],
    ['[01]', 1, 3, "a comma or ']'"],
    ['{"a": NaN}', 1, 7, 'a value'],
    ['{"a": 1} x', 1, 10, 'the end of the file'],
    ["{'a': 1}", 1, 2, 'a name in double quotes'],
    ['["a\nb"]', 1, 2, 'text that ends with a double quote on its line'],
  ];
  for (const [text, line, column, expected] of cases) {
    it(`finds the place in ${JSON.stringify(text)}`, () => {
      expect(jsonFault(text)).toEqual({ line, column, expected });
    });
  }

  it('agrees with the engine on what is JSON, whatever is cut or changed', () => {
    fc.assert(
      fc.property(
        fc.json(),
        fc.nat(),
        fc.constantFrom('', ',', '}', '"', '0', ' ', 'e'),
        (json, at, put) => {
          const place = at % (json.length + 1);
          const text = json.slice(0, place) + put + json.slice(place + 1);
          let parses = true;
          try {
            JSON.parse(text);
          } catch {
            parses = false;
          }
          expect(jsonFault(text) === undefined).toBe(parses);
        },
      ),
      { seed: 11, numRuns: 2000 },
    );
  });

  it('does not run out of stack', () => {
    expect(jsonFault('['.repeat(200_000))).toMatchObject({ column: 200_001 });
  });
});

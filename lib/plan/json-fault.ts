/** Where a text stops being JSON, and what would have been right there. Line and column count from 1. */
export interface JsonFault {
  readonly line: number;
  readonly column: number;
  readonly expected: string;
}

/** JSON's plain tokens: RFC 8259, sections 3, 6 and 7. Of its text, `[ !#-[\]-\uffff]` is what needs no backslash. */
const token =
  /(?:true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|"[ !#-[\]-\uffff]*(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})[ !#-[\]-\uffff]*)*")/y;

/**
 * The first place where a text is not JSON, or `undefined` when it is. Needed because engines word this
 * differently, and some of them give no position at all. Cost: linear; no recursion.
 */
export function jsonFault(text: string): JsonFault | undefined {
  const open: ('{' | '[')[] = [];
  let at = skipSpace(text, 0);
  for (;;) {
    // A value starts here.
    if (text[at] === '{' || text[at] === '[') {
      const bracket = text[at] as '{' | '[';
      const next = skipSpace(text, at + 1);
      if (text[next] === (bracket === '{' ? '}' : ']')) {
        at = next + 1;
      } else {
        open.push(bracket);
        at = next;
        if (bracket === '[') continue;
        const value = afterName(text, at);
        if (typeof value !== 'number') return value;
        at = value;
        continue;
      }
    } else {
      token.lastIndex = at;
      if (!token.test(text)) return faultAt(text, at, valueExpected(text, at));
      at = token.lastIndex;
    }
    // A value has ended: close brackets until one goes on.
    for (;;) {
      at = skipSpace(text, at);
      const bracket = open.at(-1);
      if (bracket === undefined) {
        return at === text.length ? undefined : faultAt(text, at, 'the end of the file');
      }
      const close = bracket === '{' ? '}' : ']';
      if (text[at] === close) {
        open.pop();
        at++;
        continue;
      }
      if (text[at] !== ',') return faultAt(text, at, `a comma or '${close}'`);
      at = skipSpace(text, at + 1);
      break;
    }
    if (open.at(-1) === '{') {
      const value = afterName(text, at);
      if (typeof value !== 'number') return value;
      at = value;
    }
  }
}

/** Where the value of a member whose name starts at `at` begins. */
function afterName(text: string, at: number): number | JsonFault {
  token.lastIndex = at;
  if (text[at] !== '"' || !token.test(text)) return faultAt(text, at, 'a name in double quotes');
  const colon = skipSpace(text, token.lastIndex);
  return text[colon] === ':' ? skipSpace(text, colon + 1) : faultAt(text, colon, "':'");
}

function valueExpected(text: string, at: number): string {
  return text[at] === '"' ? 'text that ends with a double quote on its line' : 'a value';
}

function skipSpace(text: string, from: number): number {
  let at = from;
  while (text[at] === ' ' || text[at] === '\n' || text[at] === '\r' || text[at] === '\t') at++;
  return at;
}

function faultAt(text: string, at: number, expected: string): JsonFault {
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  return { line, column: at - before.lastIndexOf('\n'), expected };
}

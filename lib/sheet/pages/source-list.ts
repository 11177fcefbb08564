import { ourChoice, practice, sourceLine, type Source } from '../../source';
import { letters } from '../drawing/board';
import type { Block } from './flow';

/** Numbers the sources of a page: beside a figure stands [3], and the list says what that is. */
export class SourceList {
  readonly #lines: string[] = [];

  /** The number of a source in brackets; a mark that names no source is written out. */
  ref(source: Source | null): string {
    if (source === null) return '';
    if (source.mark === practice.mark) return 'practice';
    if (source.mark === ourChoice.mark) return 'our choice';
    const line = sourceLine(source);
    const known = this.#lines.indexOf(line);
    if (known !== -1) return `[${known + 1}]`;
    this.#lines.push(line);
    return `[${this.#lines.length}]`;
  }

  /** The list, for the end of the page. */
  blocks(): Block[] {
    return [
      { kind: 'heading', text: 'Sources' },
      ...this.#lines.map((line, i): Block => ({
        kind: 'text',
        text: `[${i + 1}] ${line}.`,
        look: letters.aside,
      })),
      {
        kind: 'text',
        text: 'In brackets how far each was seen. ‘Practice’ is common practice without a source, ‘our choice’ a choice of the program.',
        look: letters.aside,
      },
    ];
  }
}

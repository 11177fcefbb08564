/** A group of a DXF file: its code and its value as text. */
export type Group = readonly [code: number, value: string];

/** One entity: its groups, and the vertices or attributes that follow it as entities of their own. */
export interface DxfEntity {
  readonly type: string;
  readonly groups: readonly Group[];
  readonly followers: DxfEntity[];
}

/** A block: what is drawn once and set in many places. */
export interface DxfBlock {
  readonly groups: readonly Group[];
  readonly entities: DxfEntity[];
}

/** What is used of a drawing. */
export interface DxfDrawing {
  /** Variables of the header, each with its first value. */
  readonly header: ReadonlyMap<string, string>;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly DxfEntity[];
  /** Whether the mark at the end of every drawing is there. */
  readonly isWhole: boolean;
}

/**
 * Takes the text of a DXF drawing apart into header, blocks and entities. Group codes and sections: the DXF reference of
 * the format's owner, from memory; the tests compare what comes of it with GDAL's reading.
 *
 * @returns the drawing, or the number of the first line that should be a group code and is none.
 */
export function dxfDrawing(text: string): DxfDrawing | number {
  const lines = text.split(/\r\n|\n|\r/);
  const header = new Map<string, string>();
  const blocks = new Map<string, DxfBlock>();
  const entities: DxfEntity[] = [];
  let section = '';
  let variable = '';
  let block: DxfBlock | null = null;
  let isWhole = false;
  for (let at = 0; at + 1 < lines.length;) {
    const [code, value, next] = groupAt(lines, at);
    if (Number.isNaN(code)) return at + 1;
    at = next;
    if (code === 9) variable = value;
    else if (section === 'HEADER' && variable !== '' && !header.has(variable)) {
      header.set(variable, value);
    }
    if (code !== 0) continue;
    if (value === 'EOF') {
      isWhole = true;
      break;
    }
    const groups: Group[] = [];
    while (at + 1 < lines.length) {
      const [inner, text_, after] = groupAt(lines, at);
      if (Number.isNaN(inner)) return at + 1;
      // Of the header only variables are wanted, and those begin with a group of their own.
      if (inner === 0 || (inner === 9 && section !== 'ENTITIES' && section !== 'BLOCKS')) break;
      groups.push([inner, text_]);
      at = after;
    }
    if (value === 'SECTION') section = textOf(groups, 2);
    else if (value === 'ENDSEC') section = '';
    else if (section === 'BLOCKS' && value === 'BLOCK') {
      block = { groups, entities: [] };
      blocks.set(textOf(groups, 2).toLowerCase(), block);
    } else if (section === 'BLOCKS' && value === 'ENDBLK') block = null;
    else if (section === 'ENTITIES' || block !== null) {
      addEntity(section === 'ENTITIES' ? entities : (block?.entities ?? []), value, groups);
    }
  }
  return { header, blocks, entities, isWhole };
}

function groupAt(
  lines: readonly string[],
  at: number,
): [code: number, value: string, next: number] {
  const written = lines[at].trim();
  return [/^-?\d{1,4}$/.test(written) ? Number(written) : NaN, lines[at + 1].trim(), at + 2];
}

function addEntity(into: DxfEntity[], type: string, groups: readonly Group[]): void {
  const before = into.at(-1);
  const isFollower = type === 'VERTEX' || type === 'ATTRIB';
  if (isFollower && before !== undefined) before.followers.push({ type, groups, followers: [] });
  else if (!isFollower && type !== 'SEQEND') into.push({ type, groups, followers: [] });
}

/** The first value of a code as text; empty where there is none. */
export function textOf(groups: readonly Group[], code: number): string {
  return groups.find(([each]) => each === code)?.[1] ?? '';
}

/** The first value of a code as a number. */
export function numberOf(groups: readonly Group[], code: number, otherwise: number): number {
  const value = Number(textOf(groups, code) || NaN);
  return Number.isFinite(value) ? value : otherwise;
}

/** Every value of a code as a number, in order. */
export function numbersOf(groups: readonly Group[], code: number): number[] {
  return groups.filter(([each]) => each === code).map(([, value]) => Number(value));
}

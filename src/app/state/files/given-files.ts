/** A file that was given, with those that belong to it. */
export interface FileWithSides {
  readonly file: File;
  /** By their endings: `dbf`, `prj`, `cpg` of a bare `.shp`. */
  readonly beside: ReadonlyMap<string, File>;
}

const read = ['dbf', 'prj', 'cpg'];
/** Endings of files that go with a `.shp`, whether they are read or not. */
const sides = [...read, 'shx', 'sbn', 'sbx', 'qix', 'qpj', 'qmd', 'shp.xml'];

/** Puts what lies beside a bare shapefile with it; every other file stands for itself. */
export function withSides(files: readonly File[]): FileWithSides[] {
  const byName = new Map(files.map((file) => [file.name.toLowerCase(), file]));
  const stems = [...byName.keys()]
    .filter((name) => name.endsWith('.shp'))
    .map((name) => name.slice(0, -'shp'.length));
  const taken = new Set(stems.flatMap((stem) => sides.map((ending) => stem + ending)));
  return files
    .filter((file) => !taken.has(file.name.toLowerCase()))
    .map((file) => {
      const stem = stems.find((each) => file.name.toLowerCase() === `${each}shp`);
      const beside = new Map<string, File>();
      for (const ending of stem === undefined ? [] : read) {
        const found = byName.get(`${stem ?? ''}${ending}`);
        if (found !== undefined) beside.set(ending, found);
      }
      return { file, beside };
    });
}

/** What a file is for: the plan on the sheet, the ground under it, or something for the plan. */
export type Purpose = 'plan' | 'elevation' | 'layers';

const tiffStarts = ['II*\0', 'MM\0*', 'II+\0', 'MM\0+'];

/** Tells by what is in a file what it is for; a plan of ours also by its name, so that a spoiled one is told as such. */
export async function purposeOf(file: File): Promise<Purpose> {
  const start = await file.slice(0, 4).text();
  if (tiffStarts.includes(start)) return 'elevation';
  if (/\.plan\.(geo)?json$/i.test(file.name)) return 'plan';
  if (!start.trimStart().startsWith('{') || file.size > mostPlanBytes) return 'layers';
  const text = await file.text();
  if (!text.includes('"lotfall"')) return 'layers';
  try {
    return (JSON.parse(text) as { lotfall?: unknown }).lotfall === undefined ? 'layers' : 'plan';
  } catch {
    return 'layers';
  }
}

/** Larger than any plan; what is larger is not looked through. */
const mostPlanBytes = 50 * 2 ** 20;

/** Text that was pasted, as a file. */
export function pastedFile(text: string): File {
  return new File([text], 'pasted text');
}

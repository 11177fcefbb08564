/** Why a file could not be read or written, without the system's own wording where the cause is a common one. */
export function fileFault(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return faults.get(code) ?? (error instanceof Error ? error.message : String(error));
}

const faults: ReadonlyMap<string, string> = new Map([
  ['ENOENT', 'there is no such file or folder'],
  ['ENOTDIR', 'part of its path is not a folder'],
  ['EISDIR', 'it is a folder'],
  ['EACCES', 'permission is denied'],
  ['EPERM', 'permission is denied'],
  ['EROFS', 'the disk is read-only'],
  ['ENOSPC', 'the disk is full'],
]);

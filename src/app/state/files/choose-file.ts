/** Asks the user for one file by the browser's own window. */
export function chooseFile(accept: string, chosen: (file: File) => void): void {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = accept;
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file !== undefined) chosen(file);
  });
  input.click();
}

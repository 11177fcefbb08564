/** Hands a text to the user as a file to keep. */
export function save(name: string, text: string, type: string): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken the address by the next turn.
  setTimeout(() => {
    URL.revokeObjectURL(address);
  }, 0);
}

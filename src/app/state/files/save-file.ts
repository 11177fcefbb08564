/** Hands a text to the user as a file to keep. */
export function save(name: string, text: string, type: string): void {
  handOver(name, new Blob([text], { type }));
}

/** The same for what is not text. */
export function saveBytes(name: string, bytes: Uint8Array<ArrayBuffer>, type: string): void {
  handOver(name, new Blob([bytes], { type }));
}

function handOver(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken the address by the next turn.
  setTimeout(() => {
    URL.revokeObjectURL(address);
  }, 0);
}

/**
 * A drawing in millimetres as a PNG picture.
 *
 * @param svg - a file that needs nothing beside it.
 */
export async function pictureOf(
  svg: string,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  dotsPerMm: number,
): Promise<Uint8Array<ArrayBuffer>> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(widthMm * dotsPerMm);
    canvas.height = Math.round(heightMm * dotsPerMm);
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const picture = await new Promise<Blob | null>((resolve) => {
      canvas.toBlob(resolve, 'image/png');
    });
    return new Uint8Array((await picture?.arrayBuffer()) ?? new ArrayBuffer(0));
  } finally {
    URL.revokeObjectURL(address);
  }
}

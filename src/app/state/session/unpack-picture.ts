import { InputError } from '../../../../lib/errors';
import { isPicture, pictureSize } from '../../../../lib/gather/picture-size';
import type { RasterImage } from '../../worker/sheet-image';

/** A picture as pixels. */
export interface UnpackedPicture {
  readonly image: RasterImage;
}

/** The header of any picture that a camera or scanner writes lies within so many bytes. */
const headerBytes = 512 * 1024;
/** Longest side of a picture on the sheet: what any graphics card takes. */
const mostShownPx = 4096;

/** Whether a file is a picture that can be laid on, by its first bytes. */
export async function isPictureFile(file: File): Promise<boolean> {
  return isPicture(new Uint8Array(await file.slice(0, 16).arrayBuffer()));
}

/**
 * Unpacks a PNG or JPEG, made smaller where a sheet could not show all of it. Its size is looked at before anything is unpacked.
 *
 * @throws {InputError} where it is no picture, damaged, or absurdly large.
 */
export async function unpackPicture(file: File): Promise<UnpackedPicture> {
  const { widthPx, heightPx } = pictureSize(
    file.name,
    new Uint8Array(await file.slice(0, headerBytes).arrayBuffer()),
  );
  const scale = Math.min(1, mostShownPx / Math.max(widthPx, heightPx));
  const unpacked = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(
    (cause: unknown) => {
      throw new InputError(
        {
          code: 'picture-damaged',
          where: file.name,
          problem: 'the picture cannot be unpacked: it is cut short or damaged',
          remedy: 'get it again from where it came',
        },
        { cause },
      );
    },
  );
  const width = Math.max(1, Math.round(unpacked.width * scale));
  const height = Math.max(1, Math.round(unpacked.height * scale));
  const pen = new OffscreenCanvas(width, height).getContext('2d');
  if (pen === null) throw new Error('this browser draws no pictures');
  pen.drawImage(unpacked, 0, 0, width, height);
  unpacked.close();
  const { data } = pen.getImageData(0, 0, width, height);
  return { image: { width, height, data } };
}

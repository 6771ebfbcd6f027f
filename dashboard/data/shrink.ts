// Makes a picture of the phone small enough for the server, and only then: what fits is sent as it is.
import { LARGEST_PHOTO_BYTES, PHOTO_EDGE, PHOTO_TYPES } from "#contract/photo-limits.ts";

const fits = (file: Blob) => file.size <= LARGEST_PHOTO_BYTES && (PHOTO_TYPES as readonly string[]).includes(file.type);

export async function shrunk(file: Blob): Promise<Blob> {
  if (fits(file)) return file;
  const bitmap = await createImageBitmap(file);
  const scale = Math.min(1, PHOTO_EDGE / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(bitmap.width * scale);
  canvas.height = Math.round(bitmap.height * scale);
  canvas.getContext("2d")?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return new Promise((resolve) => canvas.toBlob((made) => resolve(made ?? file), "image/jpeg", 0.88));
}

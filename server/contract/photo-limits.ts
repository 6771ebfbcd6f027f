// Limits of a picture that a phone can hold to before it sends one: numbers alone, so that a page loads nothing else with them.

export const PHOTO_TYPES = ["image/jpeg", "image/png", "image/webp"] as const;
/** Largest picture that is taken, bytes. */
export const LARGEST_PHOTO_BYTES = 8 * 1024 * 1024;
/** Most picture points that are unpacked: a small file can hold a huge empty picture. */
export const MOST_PHOTO_POINTS = 64_000_000;
/** Longest edge of what is kept, and of the small one, points. */
export const PHOTO_EDGE = 2400;
export const THUMB_EDGE = 360;
